/** A page that holds ink and a picture: the surer finding is kept, and each checks the other. */
import { expect, it } from 'vitest';
import { Names } from '../../../src/core/find/engraved/index.ts';
import { findOnPage } from '../../../src/core/find/page.ts';
import type { Picture } from '../../../src/core/find/pixels/index.ts';
import type { Ink } from '../../../src/core/find/types.ts';
import { head, line, staff } from './drawn/ink.ts';

/** Pixels to a point. */
const SCALE = 2;
const [WIDTH, HEIGHT] = [600, 400];
const BAR_LINES = [175, 300, 425, 549];
const line5 = (top: number): Ink[] => [
  ...staff(top, 50, 550, 6),
  ...BAR_LINES.map((x) => line(x, top, x, top + 24)),
  ...BAR_LINES.map((x) => head(x - 60, top + 9)),
];

/** Lines and heads of these staves, black on white. */
function pictureOf(tops: readonly number[]): Picture {
  const [width, height] = [WIDTH * SCALE, HEIGHT * SCALE];
  const data = new Uint8Array(width * height).fill(255);
  const fill = (x0: number, y0: number, x1: number, y1: number) => {
    for (let y = Math.round(y0 * SCALE); y < Math.round(y1 * SCALE); y++)
      data.fill(20, y * width + Math.round(x0 * SCALE), y * width + Math.round(x1 * SCALE));
  };
  for (const ink of tops.flatMap(line5))
    if (ink.kind === 'line') fill(ink.x0 - 0.5, ink.y0 - 0.5, ink.x1 + 0.5, ink.y1 + 0.5);
    else fill(ink.box[0], ink.box[1], ink.box[2], ink.box[3]);
  return { width, height, data };
}

const found = async (ink: readonly Ink[], picture: Picture) => {
  let looks = 0;
  const page = await findOnPage(
    {
      ink: () => Promise.resolve({ width: WIDTH, height: HEIGHT, ink }),
      grey: () => {
        looks++;
        return Promise.resolve(picture);
      },
    },
    0,
    new Names(),
  );
  return { looks, by: page.by, bars: page.systems.flatMap(({ bars }) => bars) };
};

const scan: Ink = { kind: 'image', box: [0, 0, WIDTH, HEIGHT] };
const TOPS = [60, 160, 260];

it('a page of ink alone is never drawn', async () => {
  const { looks, by, bars } = await found(TOPS.flatMap(line5), pictureOf(TOPS));
  expect([looks, by, bars.length]).toEqual([0, 'ink', 12]);
});

it('a scan with one line drawn over it has the bars of all its lines', async () => {
  const { looks, by, bars } = await found([scan, ...line5(60)], pictureOf(TOPS));
  // Found in pixels: its bars are compared as pictures.
  expect([looks, by, bars.length]).toEqual([1, 'pixels', 12]);
});

it('bars that both find are surer, and those where the picture shows others are less sure', async () => {
  const alone = (await found(line5(60), pictureOf([]))).bars;
  const agreed = (await found([scan, ...line5(60)], pictureOf([60]))).bars;
  expect(agreed.every(({ sure }, i) => sure > alone[i]!.sure)).toBe(true);
  const moved = (await found([scan, ...line5(60)], pictureOf([76]))).bars;
  expect(moved.every(({ sure }, i) => sure < alone[i]!.sure)).toBe(true);
});

it('ink stays as it is where the picture holds no music', async () => {
  const alone = (await found(line5(60), pictureOf([]))).bars;
  const { by, bars } = await found([scan, ...line5(60)], pictureOf([]));
  expect([by, bars.map(({ sure }) => sure)]).toEqual(['both', alone.map(({ sure }) => sure)]);
});

it('a page of ink alone whose bars are in doubt is drawn, and each way is asked', async () => {
  // Two staves that are joined at both ends, and whose bar lines between stand elsewhere on each, one more on one.
  const between = (top: number, xs: readonly number[]) => [
    ...staff(top, 50, 550, 6),
    ...xs.flatMap((x) => [line(x, top, x, top + 24), head(x - 30, top + 9)]),
  ];
  const joined = [50, 549].map((x) => line(x, 100, x, 184));
  const apart = [...between(100, [175, 300, 425]), ...between(160, [240, 380]), ...joined, head(500, 109)];
  const { looks, by, bars } = await found(apart, pictureOf([]));
  expect([looks, by, bars.length]).toEqual([1, 'both', 4]);
  expect(Math.min(...bars.map(({ sure }) => sure))).toBeLessThan(0.8);
});
