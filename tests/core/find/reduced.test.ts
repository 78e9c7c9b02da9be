/** Decoded pictures made grey and smaller, against the same in plain loops, over pixels by chance. */
import { describe, expect, test } from 'vitest';
import { reduced } from '../../../src/pdf/scan/reduce.ts';
import { Random } from '../../corpus/tunes/random.ts';

/** pdf.js's ImageKind: the bytes of a row, and grey of its pixel `x`. */
const kinds = {
  1: {
    row: (width: number) => Math.ceil(width / 8),
    grey: (row: Uint8Array, x: number) => (row[x >> 3]! & (128 >> (x & 7)) ? 255 : 0),
  },
  2: {
    row: (width: number) => 3 * width,
    grey: (row: Uint8Array, x: number) => luma(row.subarray(3 * x)),
  },
  3: {
    row: (width: number) => 4 * width,
    grey: (row: Uint8Array, x: number) =>
      Math.floor(255 - ((255 - luma(row.subarray(4 * x))) * row[4 * x + 3]!) / 255),
  },
} as const;

/** Of Rec. 601, in whole parts of 256. */
const luma = ([r, g, b]: Uint8Array) => (77 * r! + 150 * g! + 29 * b!) >> 8;

/** How much of pixel `i` lies between two places. */
const share = (i: number, from: number, to: number) => Math.max(0, Math.min(i + 1, to) - Math.max(i, from));

/** The mean of what pixel (`x`, `y`) of a picture of `wide` × `high` covers. */
function meanAt(
  grey: readonly (readonly number[])[],
  x: number,
  y: number,
  wide: number,
  high: number,
): number {
  const [height, width] = [grey.length, grey[0]!.length];
  const [left, right] = [(x * width) / wide, ((x + 1) * width) / wide];
  const [top, bottom] = [(y * height) / high, ((y + 1) * height) / high];
  let sum = 0;
  for (let v = Math.floor(top); v < Math.min(height, bottom); v++)
    for (let u = Math.floor(left); u < Math.min(width, right); u++)
      sum += share(v, top, bottom) * share(u, left, right) * grey[v]![u]!;
  return sum / ((right - left) * (bottom - top));
}

describe.each([1, 2, 3] as const)('kind %i', (kind) => {
  test.each([
    [301, 203, 97, 111],
    [130, 150, 130, 150],
    [61, 70, 90, 100],
    [17, 129, 5, 9],
  ])('%i × %i at %i × %i', (width, height, wide, high) => {
    const random = new Random(width + kind);
    const bytes = kinds[kind].row(width);
    const data = Uint8Array.from({ length: bytes * height }, () => random.below(256));
    const grey = Array.from({ length: height }, (_, y) =>
      Array.from({ length: width }, (_, x) => kinds[kind].grey(data.subarray(y * bytes), x)),
    );
    const found = reduced({ width, height, kind, data }, wide, high);
    expect([found.width, found.height]).toEqual([wide, high]);
    let most = 0;
    for (let y = 0; y < high; y++)
      for (let x = 0; x < wide; x++)
        most = Math.max(most, Math.abs(found.data[y * wide + x]! - meanAt(grey, x, y, wide, high)));
    // Rounded to a whole grey, from sums in single precision.
    expect(most).toBeLessThan(0.51);
  });
});
