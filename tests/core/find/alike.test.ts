import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { isAlike, opened } from '../../../src/core/find/alike/compare.ts';
import type { Grey } from '../../../src/core/find/alike/grey.ts';
import { pack, unpack } from '../../../src/core/find/alike/pack.ts';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { likelyTwins } from '../../../src/core/find/chart/likely.ts';
import { findPixels, type Picture } from '../../../src/core/find/pixels/index.ts';
import type { BarPicture, FoundPage } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { suffer } from '../../corpus/scans/defects.ts';
import { Random } from '../../corpus/tunes/random.ts';

const DPI = 150;
const SIZE = { width: 595, height: 842 };
const file = resolve(import.meta.dirname, '../../../sample-pdfs/aaba.pdf');
/** Lines of the sheet, four bars each: the A of eight bars stands in these three times, the B in two others. */
const FORM = ['A1', 'A2', 'A1', 'A2', 'B1', 'B2', 'A1', 'A2'];
/** Of these two lines the picture of two is made, for finding in less time. */
const LINES = [2, 6];
const BAR = 1;

let whole: Picture;
let printed: Picture;
let page: FoundPage;
beforeAll(async () => {
  const ink = await openInk(new Uint8Array(readFileSync(file)));
  whole = await ink.grey(0, DPI);
  await ink.destroy();
  const { systems } = JSON.parse(readFileSync(file.replace('.pdf', '.marks.json'), 'utf8')) as {
    systems: { top: number; bottom: number }[];
  };
  const data = whole.data.slice();
  const middles = systems.map(({ top, bottom }) => Math.round(((top + bottom) / 2) * whole.height));
  // From halfway after the line before to halfway to the next.
  const edges = [0, ...middles.slice(1).map((y, i) => (y + middles[i]!) >> 1), whole.height];
  edges.slice(1).forEach((end, line) => {
    if (!LINES.includes(line)) data.fill(255, edges[line]! * whole.width, end * whole.width);
  });
  printed = { ...whole, data };
  page = findPixels(printed, 0, SIZE);
}, 60_000);

/** What a line's bar is called on the sheet, counted from the line's end: at its start strokes may be taken for bar lines. */
const named = (found: FoundPage, form: readonly string[]) =>
  found.systems.flatMap(({ bars }, line) => bars.map((_, i) => `${form[line]!} ${bars.length - i}`));
const barsOf = ({ systems }: FoundPage) => systems.flatMap(({ bars }) => bars);
const twinsOf = (found: FoundPage) => wholeChart([found]).twins;
/** Whether the bars at a place of both lines are twins. */
const areTwins = (found: FoundPage, bar: number) => {
  const other = found.systems[0]!.bars.length + bar;
  return twinsOf(found).some((list) => list.includes(bar) && list.includes(other));
};

/** The page with something painted at a place of a bar: along it 0–1, and spaces below its top line. */
function painted(
  bar: number,
  along: number,
  down: number,
  wide: number,
  high: number,
  grey: number,
): FoundPage {
  const [x0, y0, x1, y1] = barsOf(page)[bar]!.box;
  const space = ((y1 - y0) * printed.height) / 4;
  const [left, top] = [(x0 + (x1 - x0) * along) * printed.width, y0 * printed.height + down * space];
  const data = printed.data.slice();
  for (let y = Math.round(top); y < top + high * space; y++)
    data.fill(
      grey,
      y * printed.width + Math.round(left),
      y * printed.width + Math.round(left + wide * space),
    );
  return findPixels({ ...printed, data }, 0, SIZE);
}

describe('bars of a page of pixels', () => {
  test('are twins where the music is the same', () => {
    expect(page.systems.map(({ bars }) => bars.length)).toEqual([4, 4]);
    expect(areTwins(page, BAR)).toBe(true);
    expect(areTwins(page, BAR + 1)).toBe(true);
  });

  test.each([
    ['a dot', 0.62, 1.3, 0.4, 0.4],
    ['a tie', 0.5, 4.6, 2, 0.22],
    ['an accidental', 0.62, 1, 0.5, 2.6],
  ])('are none where %s more stands in one', (_, along, down, wide, high) => {
    const found = painted(BAR, along, down, wide, high, 0);
    expect(areTwins(found, BAR)).toBe(false);
    expect(areTwins(found, BAR + 1)).toBe(true);
  });

  test('are none where a part of a chord symbol is missing', () => {
    const word = barsOf(page)[BAR]!.picture!.words.at(-1)!;
    const [x0, y0, x1, y1] = barsOf(page)[BAR]!.box;
    const space = ((y1 - y0) * printed.height) / 4;
    // The last letter: from two thirds of the word on. Its pixels are a twelfth of a space, its place a sixth, and there are
    // sixteen more of them on both sides.
    const along = ((word.x + (word.width - 32) / 3) / 6 + 0.4) / (((x1 - x0) * printed.width) / space);
    const found = painted(BAR, along, word.foot / 6 - 3, 4, 3.5, 255);
    expect(areTwins(found, BAR)).toBe(false);
    expect(areTwins(found, BAR + 1)).toBe(true);
  });

  test('are found on a whole page and on a spoilt copy, none of them false', () => {
    for (const picture of [whole, suffer(whole, 'scanned', 2, DPI).picture]) {
      const found = findPixels(picture, 0, SIZE);
      const names = named(found, FORM);
      const twins = twinsOf(found);
      expect(twins.length).toBeGreaterThan(3);
      for (const list of twins) expect([...new Set(list.map((bar) => names[bar]))]).toHaveLength(1);
    }
  });

  test('of a spoilt copy whole sections are asked about where not every bar is a twin, and each of them is right', () => {
    const found = findPixels(suffer(whole, 'scanned', 2, DPI).picture, 0, SIZE);
    const names = named(found, FORM);
    const nameAt = ({ box }: { box: unknown }) => names[barsOf(found).findIndex((bar) => bar.box === box)];
    const likely = likelyTwins([found]);
    expect(likely.length).toBeGreaterThan(0);
    for (const pairs of likely) {
      expect(pairs.length).toBeGreaterThanOrEqual(4);
      for (const { bar, like } of pairs) expect(nameAt(bar)).toBe(nameAt(like));
    }
  });
});

describe('pictures of bars', () => {
  const level = (of: Grey, x: number, y: number) => of.data[x * of.height + y]!;
  /** Free columns before a sign are doubled. */
  function stretched(picture: BarPicture): BarPicture {
    const staves = picture.staves.map((staff) => {
      const grey = unpack(staff);
      const rows = Array.from({ length: grey.height }, (__, y) => y);
      const isFree = (x: number) => x > 0 && rows.every((y) => level(grey, x, y) < 4);
      const columns = Array.from({ length: grey.width }, (__, x) =>
        isFree(x) && x % 3 === 0 ? [x, x] : [x],
      ).flat();
      const even = columns.length % 2 === 0 ? columns : [...columns, columns.at(-1)!];
      const data = Uint8Array.from(even.flatMap((x) => rows.map((y) => level(grey, x, y))));
      return { above: staff.above, ...pack({ width: even.length, height: grey.height, data }) };
    });
    return { ...picture, staves };
  }

  test('are kept as they are', () => {
    const staff = barsOf(page)[BAR]!.picture!.staves[0]!;
    expect(pack(unpack(staff))).toEqual({ width: staff.width, height: staff.height, text: staff.text });
  });

  test.each([0, 0.01, 0.2, 0.9])('are kept exactly, %d of their pixels being ink', (share) => {
    const random = new Random(7);
    for (let width = 1; width < 40; width++) {
      const height = 2 + random.below(60);
      const data = Uint8Array.from({ length: width * height }, () =>
        random.chance(share) ? 3 * random.below(6) : 0,
      );
      expect(unpack(pack({ width, height, data }))).toEqual({ width, height, data });
    }
  });

  test('are alike when one is wider between its signs', () => {
    const picture = barsOf(page)[BAR]!.picture!;
    const wide = stretched(picture);
    expect(wide.staves[0]!.width).toBeGreaterThan(picture.staves[0]!.width + 10);
    expect(isAlike(opened(picture), opened(wide))).toBe(true);
  });

  test('are not alike when a staff stands a step higher', () => {
    const picture = barsOf(page)[BAR]!.picture!;
    const higher = picture.staves.map((staff) => ({ ...staff, above: staff.above + 6 }));
    expect(isAlike(opened(picture), opened({ ...picture, staves: higher }))).toBe(false);
  });
});
