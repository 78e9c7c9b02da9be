/**
 * abcjs: reads the tune in ABC and draws SVG in a browser, which prints it. What it has drawn it says itself: the
 * elements of its own tune object carry their kind and the SVG elements that they became.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import { truthOf, type DrawnSystem, type Truth } from '../truth.ts';
import { chordsOnNotes } from '../tunes/index.ts';
import type { Tune } from '../tunes/types.ts';
import { abcOf } from './abc.ts';
import { inPage, PIXELS, POINTS_A_PIXEL } from './print.ts';

const KINDS: Record<string, BarLineKind> = {
  bar_thin: 'single',
  bar_thin_thin: 'double',
  bar_thin_thick: 'final',
  bar_left_repeat: 'repeat-start',
  bar_right_repeat: 'repeat-end',
  bar_dbl_repeat: 'repeat-both',
};

/** Runs in the page, as text: draws and gives systems in CSS pixels, `lines` as [left, right, type]. */
const DRAW = `(source, width, scale) => {
  const [tune] = ABCJS.renderAbc('paper', source, { add_classes: true, scale, staffwidth: width - 70, paddingleft: 30, paddingright: 30 });
  const rows = tune.lines.filter((line) => line.staff);
  const systems = [...document.querySelectorAll('.abcjs-staff-wrapper')].map((wrapper, i) => {
    const staves = [...wrapper.querySelectorAll('.abcjs-staff')].map((staff) =>
      [...staff.querySelectorAll('path')].map((path) => path.getBoundingClientRect()));
    const middle = (box) => (box.top + box.bottom) / 2;
    const lines = rows[i].staff[0].voices[0].flatMap((one) => {
      const paths = (one.abselem?.elemset ?? []).flatMap((group) => [...group.querySelectorAll('path[data-name="bar"]')]);
      if (one.el_type !== 'bar' || paths.length === 0) return [];
      const boxes = paths.map((path) => path.getBoundingClientRect());
      return [[Math.min(...boxes.map((box) => box.left)), Math.max(...boxes.map((box) => box.right)), one.type]];
    });
    const [first, last] = [staves[0], staves.at(-1)];
    return { top: middle(first[0]), bottom: middle(last.at(-1)), x0: first[0].left, x1: first[0].right, staves: staves.length, lines };
  });
  return { systems, height: document.querySelector('#paper').getBoundingClientRect().bottom };
}`;

interface Drawn {
  readonly height: number;
  readonly systems: readonly (Omit<DrawnSystem, 'lines'> & { lines: [number, number, string][] })[];
}

const script = createRequire(import.meta.url).resolve('abcjs/dist/abcjs-basic-min.js');

/** Engraves tunes into `folder` as NAME.pdf, each on one page as long as it needs; gives abcjs's own account. */
export async function engrave(tunes: readonly Tune[], folder: string): Promise<Truth[]> {
  mkdirSync(folder, { recursive: true });
  return inPage(async (page) => {
    const truths: Truth[] = [];
    for (const tune of tunes.map(chordsOnNotes)) {
      const [width, high] = PIXELS[tune.paper];
      await page.setViewport({ width, height: high });
      await page.setContent('<style>body { margin: 0 }</style><div id="paper"></div>');
      await page.addScriptTag({ path: script });
      const source = abcOf(tune, ['%%partsbox 1']);
      const call = `(${DRAW})(${JSON.stringify(source)}, ${width}, ${0.9 * tune.size})`;
      const { systems, height } = (await page.evaluate(call)) as Drawn;
      const size = { width: `${width}px`, height: `${Math.max(high, Math.ceil(height) + 20)}px` };
      writeFileSync(join(folder, `${tune.name}.abc`), source);
      writeFileSync(join(folder, `${tune.name}.pdf`), await page.pdf({ ...size, pageRanges: '1' }));
      const points = (value: number) => value * POINTS_A_PIXEL;
      const drawn = systems.map(({ top, bottom, x0, x1, staves, lines }): DrawnSystem => ({
        top: points(top),
        bottom: points(bottom),
        x0: points(x0),
        x1: points(x1),
        staves,
        lines: lines.map(([left, right, type]) => {
          if (KINDS[type] === undefined) throw new Error(`a bar line of type ${type} in ${tune.name}`);
          return { x0: points(left), x1: points(right), kind: KINDS[type] };
        }),
      }));
      try {
        truths.push(
          truthOf(tune, 'abcjs', [
            { width: points(width), height: points(Number.parseInt(size.height)), systems: drawn },
          ]),
        );
      } catch (error) {
        process.stderr.write(`${String(error)}\n`);
      }
    }
    return truths;
  });
}
