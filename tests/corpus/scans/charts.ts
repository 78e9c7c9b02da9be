/** Whole charts of the corpus as scans: what is found in them, and what their bars truly hold. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { settle, writtenOf } from '../../../src/core/find/chart/settle.ts';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import type { Truth } from '../truth.ts';
import { suffer } from './defects.ts';
import { movedBox } from './labels.ts';
import { print } from './print.ts';
import { pairs, type Box } from './score.ts';

const seedOf = (file: string) => Number(/-(\d+)\.pdf$/.exec(file)![1]);

/** The charts of these folders that have a truth, odd seeds or even ones. */
export const filesOf = (folders: readonly string[], isOdd: boolean): string[] =>
  folders.flatMap((folder) =>
    readdirSync(folder)
      .filter(
        (file) => /-\d+\.pdf$/.test(file) && existsSync(join(folder, file.replace('.pdf', '.truth.json'))),
      )
      .filter((file) => (seedOf(file) % 2 === 1) === isOdd)
      .map((file) => join(folder, file)),
  );

/** Finds the bars of a spoilt file, and the class of the true bar that each is, by page and place on it. */
export function findIn(
  file: string,
  truth: Truth,
  defect: string,
  dpi: number,
): { found: FoundPage[]; classes: Map<string, number> } {
  let first = 0;
  const classes = new Map<string, number>();
  const found = truth.pages.map((page, index) => {
    const { picture, to } = suffer(print(file, index, dpi), defect, seedOf(file) * 10 + index, dpi);
    const one = findPixels(picture, index, page);
    const { width, height } = picture;
    const seen = one.systems.flatMap(({ bars }) =>
      bars.map(({ box: [x0, y0, x1, y1] }): Box => [x0 * width, y0 * height, x1 * width, y1 * height]),
    );
    const wanted = page.systems.flatMap(({ bars }) =>
      bars.map(({ box }) => movedBox(box.map((v) => (v * dpi) / 72) as unknown as Box, to)),
    );
    for (const [i, j] of pairs(seen, wanted, 0.75)) classes.set(`${index} ${i}`, truth.classes[first + j]!);
    first += wanted.length;
    return one;
  });
  return { found, classes };
}

/** The true class of every written bar; null for one that goes on over lines, or is none of the sheet's. */
export const writtenClasses = (
  found: readonly FoundPage[],
  classes: ReadonlyMap<string, number>,
): (number | null)[] =>
  writtenOf(settle(found)).map((parts) =>
    parts.length > 1 ? null : (classes.get(`${parts[0]!.page} ${parts[0]!.index}`) ?? null),
  );
