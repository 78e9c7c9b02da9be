import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { isAlike, opened } from '../../../src/core/find/alike/compare.ts';
import { pack, unpack, type Grey } from '../../../src/core/find/alike/grey.ts';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findPixels, type Picture } from '../../../src/core/find/pixels/index.ts';
import type { BarPicture, FoundPage } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { suffer } from '../../corpus/scans/defects.ts';

const DPI = 150;
const SIZE = { width: 595, height: 842 };
const file = resolve(import.meta.dirname, '../../../sample-pdfs/aaba.pdf');
/** Bars 9–12 are the beginning of the second A, bars 26–29 that of the last one (sample-pdfs/source/aaba.ly). */
const [BAR, TWIN] = [9, 26];

let printed: Picture;
let page: FoundPage;
beforeAll(async () => {
  const ink = await openInk(new Uint8Array(readFileSync(file)));
  printed = await ink.grey(0, DPI);
  await ink.destroy();
  page = findPixels(printed, 0, SIZE);
});

const barsOf = ({ systems }: FoundPage) => systems.flatMap(({ bars }) => bars);
const twinsOf = (found: FoundPage) => wholeChart([found]).twins;
const areTwins = (found: FoundPage, a: number, b: number) =>
  twinsOf(found).some((list) => list.includes(a) && list.includes(b));

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
  test('are twins where the music is the same, and no others are', () => {
    const twins = twinsOf(page);
    expect(areTwins(page, BAR, TWIN)).toBe(true);
    expect(twins.length).toBeGreaterThan(5);
    // The A of eight bars begins at bars 1, 9 and 25 of the sheet; the B at 17 has none of its bars.
    for (const list of twins) expect(list.filter((bar) => bar >= 17 && bar <= 24)).toEqual([]);
  });

  test.each([
    ['a dot', 0.62, 1.3, 0.4, 0.4],
    ['a tie', 0.5, 4.6, 2, 0.22],
    ['an accidental', 0.62, 1, 0.5, 2.6],
  ])('are none where %s more stands in one', (_, along, down, wide, high) => {
    const found = painted(BAR, along, down, wide, high, 0);
    expect(areTwins(found, BAR, TWIN)).toBe(false);
    expect(areTwins(found, BAR + 1, TWIN + 1)).toBe(true);
  });

  test('are none where a part of a chord symbol is missing', () => {
    const word = barsOf(page)[BAR]!.picture!.words.at(-1)!;
    const [x0, y0, x1, y1] = barsOf(page)[BAR]!.box;
    const space = ((y1 - y0) * printed.height) / 4;
    // The last letter: from two thirds of the word on. Its pixels are a twelfth of a space, its place a sixth.
    const along = ((word.x + word.width / 3) / 6 + 0.4) / (((x1 - x0) * printed.width) / space);
    const found = painted(BAR, along, word.foot / 6 - 3, 4, 3.5, 255);
    expect(areTwins(found, BAR, TWIN)).toBe(false);
    expect(areTwins(found, BAR + 1, TWIN + 1)).toBe(true);
  });

  test('have no false twins on a spoilt copy', () => {
    const { picture } = suffer(printed, 'scanned', 2, DPI);
    const found = findPixels(picture, 0, SIZE);
    const right = twinsOf(page);
    for (const list of twinsOf(found))
      for (const bar of list)
        expect(right.some((one) => one.includes(bar) && one.includes(list[0]!))).toBe(true);
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
