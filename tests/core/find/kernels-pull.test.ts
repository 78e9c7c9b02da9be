/** The kernels that pull staves straight against the same in plain loops, over pixels by chance. */
import { expect, test } from 'vitest';
import { kernels, lent, VECTOR } from '../../../src/core/find/kernels/kernels.ts';
import { Random } from '../../corpus/tunes/random.ts';

const [WIDTH, HEIGHT] = [210, 64];

test('a row is pulled straight from between the pixels, and bare tiles are left out', () => {
  const random = new Random(21);
  const page = Uint8Array.from({ length: WIDTH * HEIGHT }, () => random.below(256));
  const tile = 16;
  const [across, down] = [Math.ceil(WIDTH / tile), Math.ceil(HEIGHT / tile)];
  // The right part of the page is bare, whatever stands in its pixels.
  const tiles = Uint8Array.from({ length: across * down }, (_, i) => (i % across < 9 ? 1 : 0));
  const columns = 160;
  const [offset, step, share] = [3.4, 1.25, 0.4];
  const upper = Float32Array.from({ length: columns }, (_, u) => 20 + 0.05 * u);
  const lower = Float32Array.from(upper, (y) => y + 9);
  const { at, bytes, floats } = lent(page.length, tiles.length, columns, 4 * columns, 4 * columns);
  const [pageAt, tilesAt, rowAt, upperAt, lowerAt] = at as [number, number, number, number, number];
  bytes.set(page, pageAt);
  bytes.set(tiles, tilesAt);
  bytes.fill(0, rowAt, rowAt + columns);
  floats.set(upper, upperAt / 4);
  floats.set(lower, lowerAt / 4);
  // prettier-ignore
  kernels().fillRow(
    pageAt, WIDTH, HEIGHT, tilesAt, rowAt, 0, columns, upperAt, lowerAt, share, offset, step,
  );
  let bare = 0;
  for (let u = 0; u < columns; u++) {
    const [x, y] = [offset + (u + 0.5) * step, upper[u]! + 9 * share];
    const [left, top] = [Math.floor(x), Math.floor(y)];
    const mix = (a: number, b: number, part: number) => a + (b - a) * part;
    const pixel = (i: number, j: number) => page[j * WIDTH + i] ?? 0;
    const [above, below] = [top, top + 1].map((j) => mix(pixel(left, j), pixel(left + 1, j), x - left));
    const found = bytes[rowAt + u]!;
    // Sixteen columns at a time: where they reach into the bare part they are seen or not.
    if (left > 9 * tile + 20) expect(found, `column ${u}`).toBe(0);
    else if (left < 9 * tile - 21) expect(Math.abs(found - mix(above!, below!, y - top))).toBeLessThan(1.3);
    bare += left > 9 * tile + 20 ? 1 : 0;
  }
  expect(bare).toBeGreaterThan(10);
});

test('a picture stands out most where its strokes are moved upright', () => {
  const [rows, tops, lean] = [20, [6, 36], 0.2];
  const middle = tops[0]! + rows / 2;
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (const x of [30, 90, 151])
    for (const top of tops)
      for (let row = top; row < top + rows; row++)
        data[row * WIDTH + x + Math.floor(lean * (row - middle) + 0.5)] = 255;
  const { at, bytes, words } = lent(data.length, 4 * tops.length, 4 * WIDTH + VECTOR);
  const [picture, topsAt, sums] = at as [number, number, number];
  bytes.set(data, picture);
  words.set(tops, topsAt / 4);
  const standing = (leaning: number) =>
    kernels().sharpness(picture, WIDTH, topsAt, tops.length, rows, middle, leaning, sums);
  const plain = (leaning: number) =>
    Array.from({ length: WIDTH }, (_, u) => {
      let sum = 0;
      for (const top of tops)
        for (let row = top; row < top + rows; row++) {
          const x = u + Math.floor(leaning * (row - middle) + 0.5);
          if (x >= 0 && x < WIDTH) sum += data[row * WIDTH + x]!;
        }
      return (sum / 1000) ** 4;
    }).reduce((a, b) => a + b, 0);
  const leans = [-0.3, -0.1, 0, 0.1, 0.2, 0.3];
  for (const leaning of leans) expect(standing(leaning)).toBeCloseTo(plain(leaning), 6);
  expect(Math.max(...leans.map(standing))).toBe(standing(lean));
});
