/**
 * VexFlow: lays a tune out bar by bar in a browser's page, which prints it; its signs are letters of a SMuFL font.
 * What kind a bar line is its own bar line object says, where it stands the SVG group that it drew.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import { truthOf, type DrawnSystem, type TrueLine, type Truth } from '../truth.ts';
import { chordsOnNotes } from '../tunes/index.ts';
import type { Tune } from '../tunes/types.ts';
import { inPage, PIXELS, POINTS_A_PIXEL, sheetStyle } from './print.ts';
import { drawTune, type VexSystem } from './vexflow-draw.ts';

const KINDS: Record<string, BarLineKind> = {
  SINGLE: 'single',
  DOUBLE: 'double',
  END: 'final',
  REPEAT_BEGIN: 'repeat-start',
  REPEAT_END: 'repeat-end',
};

/** An end repeat and a start repeat at one place, in CSS pixels, are one boundary. */
const SAME_PLACE = 8;

function systemOf(system: VexSystem, staves: number): DrawnSystem {
  const points = (value: number) => value * POINTS_A_PIXEL;
  const lines: TrueLine[] = [];
  for (const { left, right, type } of [...system.lines].sort((a, b) => a.left - b.left)) {
    const kind = KINDS[type];
    if (kind === undefined) throw new Error(`a bar line of type ${type}`);
    const last = lines.at(-1);
    if (last && points(left) - last.x1 < points(SAME_PLACE)) {
      last.x1 = points(right);
      last.kind = last.kind === 'repeat-end' && kind === 'repeat-start' ? 'repeat-both' : kind;
    } else lines.push({ x0: points(left), x1: points(right), kind });
  }
  return {
    top: points(system.top),
    bottom: points(system.bottom),
    x0: points(system.x0),
    x1: points(system.x1),
    staves,
    lines,
  };
}

const script = createRequire(import.meta.url).resolve('vexflow');

/** Engraves tunes into `folder` as NAME.pdf; gives VexFlow's own account of each. */
export async function engrave(tunes: readonly Tune[], folder: string): Promise<Truth[]> {
  mkdirSync(folder, { recursive: true });
  return inPage(async (page) => {
    const truths: Truth[] = [];
    for (const tune of tunes.map(chordsOnNotes)) {
      const [width, height] = PIXELS[tune.paper];
      await page.setViewport({ width, height });
      await page.setContent(sheetStyle(width, height));
      await page.addScriptTag({ path: script });
      // The compiler that runs this file may wrap functions in a helper that a page does not have.
      await page.evaluate('globalThis.__name = (value) => value; document.fonts.ready.then(() => true)');
      const pages = await page.evaluate(drawTune, tune, width, height);
      await page.evaluate('document.fonts.ready.then(() => true)');
      writeFileSync(
        join(folder, `${tune.name}.pdf`),
        await page.pdf({ width: `${width}px`, height: `${height}px`, pageRanges: `1-${pages.length}` }),
      );
      truths.push(
        truthOf(
          tune,
          'vexflow',
          pages.map((systems) => ({
            width: width * POINTS_A_PIXEL,
            height: height * POINTS_A_PIXEL,
            systems: systems.map((system) => systemOf(system, tune.staves)),
          })),
        ),
      );
    }
    return truths;
  });
}
