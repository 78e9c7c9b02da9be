/** Charts of the corpus as scans: what is found in them, and what their bars truly are, in pixels of the picture. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { settle, writtenOf } from '../../../src/core/find/chart/settle.ts';
import { findPixels, type Picture } from '../../../src/core/find/pixels/index.ts';
import type { FoundBar, FoundPage } from '../../../src/core/find/types.ts';
import type { TrueBar, Truth } from '../truth.ts';
import { suffer } from './defects.ts';
import { movedBox } from './labels.ts';
import { print } from './print.ts';
import { pairs, type Box } from './score.ts';

/** Options of the measures of whole charts, for `parseArgs`: odd seeds ("report") or even ones, and how they suffer. */
export const chartOptions = {
  half: { type: 'string', default: 'report' },
  dpi: { type: 'string', default: '150' },
  defects: { type: 'string', default: 'sound,faxed,scanned,photographed' },
} as const;

export const seedOf = (file: string) => Number(/(\d+)\.pdf$/.exec(file)?.[1] ?? 0);

/** The charts of these folders that have a truth and are wanted by their seed. */
export const filesIn = (folders: readonly string[], isWanted: (seed: number) => boolean): string[] =>
  folders.flatMap((folder) =>
    readdirSync(folder)
      .filter(
        (file) => file.endsWith('.pdf') && existsSync(join(folder, file.replace('.pdf', '.truth.json'))),
      )
      .filter((file) => isWanted(seedOf(file)))
      .map((file) => join(folder, file)),
  );

/** Those that `chartOptions` ask for. */
export const filesOf = (folders: readonly string[], { half }: { readonly half: string }): string[] =>
  filesIn(folders, (seed) => (seed % 2 === 1) === (half === 'report'));

export const truthOf = (file: string): Truth =>
  JSON.parse(readFileSync(file.replace('.pdf', '.truth.json'), 'utf8')) as Truth;

const scaled = ([x0, y0, x1, y1]: Readonly<Box>, x: number, y: number): Box => [
  x0 * x,
  y0 * y,
  x1 * x,
  y1 * y,
];

/** The true bars of a page that was printed at `dpi` and has suffered: `to` says where its points are now. */
export const barsThere = (
  { systems }: Truth['pages'][number],
  dpi: number,
  to: Parameters<typeof movedBox>[1],
): (Omit<TrueBar, 'box'> & { readonly box: Box })[] =>
  systems.flatMap(({ bars }) =>
    bars.map((bar) => ({ ...bar, box: movedBox(scaled(bar.box, dpi / 72, dpi / 72), to) })),
  );

/** The bars that were found in a picture. */
export const barsSeen = (
  { systems }: FoundPage,
  { width, height }: Picture,
): (Omit<FoundBar, 'box'> & { readonly box: Box })[] =>
  systems.flatMap(({ bars }) => bars.map((bar) => ({ ...bar, box: scaled(bar.box, width, height) })));

/** What is found in a chart that has suffered, and the true class of every written bar, see `writtenClasses`. */
export function findIn(
  file: string,
  defect: string,
  dpi: number,
): { readonly truth: Truth; readonly found: FoundPage[]; readonly classes: (number | null)[] } {
  const truth = truthOf(file);
  let first = 0;
  const byPlace = new Map<string, number>();
  const found = truth.pages.map((page, index) => {
    const { picture, to } = suffer(print(file, index, dpi), defect, seedOf(file) * 10 + index, dpi);
    const one = findPixels(picture, index, page);
    const [seen, there] = [barsSeen(one, picture), barsThere(page, dpi, to)];
    const boxes = (bars: readonly { readonly box: Box }[]) => bars.map(({ box }) => box);
    for (const [i, j] of pairs(boxes(seen), boxes(there), 0.75))
      byPlace.set(`${index} ${i}`, truth.classes[first + j]!);
    first += there.length;
    return one;
  });
  return { truth, found, classes: writtenClasses(found, byPlace) };
}

/** The true class of every written bar; null for one that goes on over lines, or is none of the sheet's. */
const writtenClasses = (
  found: readonly FoundPage[],
  classes: ReadonlyMap<string, number>,
): (number | null)[] =>
  writtenOf(settle(found)).map((parts) =>
    parts.length > 1 ? null : (classes.get(`${parts[0]!.page} ${parts[0]!.index}`) ?? null),
  );
