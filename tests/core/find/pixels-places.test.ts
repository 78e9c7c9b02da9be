/** Where words and signs over and between staves are looked for. */
import { describe, expect, test } from 'vitest';
import { placesAbove } from '../../../src/core/find/pixels/above.ts';
import { drawnStaves, UNIT, type Drawn } from './drawn/straight.ts';

/** Four letters in a row: a word. */
const word = (on: Drawn, x: number, y: number) =>
  [0, 1.2, 2.4, 3.6].reduce((drawn, off) => drawn.fill(x + off, x + off + 0.8, y, y + 1.5), on);
const startsOf = (on: Drawn) => placesAbove(on).map(({ x0 }) => Math.round((10 * x0) / UNIT) / 10);

test('a word over the staff is one place', () => {
  expect(startsOf(word(drawnStaves(30), 10, -4))).toEqual([10]);
});

// Common practice in music on two staves, no source.
describe('between two staves', () => {
  test('a word is a place, also where a bar line comes down to it or a stem stands over it', () => {
    const plain = word(drawnStaves(30, 2), 10, 8);
    expect(startsOf(plain)).toEqual([10]);
    expect(startsOf(plain.fill(10.2, 10.4, 4, 8.2).fill(11.5, 11.7, 4, 6))).toEqual([10]);
  });
  test('its ends are those of its words', () => {
    const place = placesAbove(word(drawnStaves(30, 2), 10, 8))[0]!;
    expect(place.x1 / UNIT).toBeCloseTo(14.4, 0);
    expect((place.y0 - 126) / UNIT).toBeCloseTo(8, 0);
  });
  test('bar lines, stems and what is narrow are none', () => {
    const on = drawnStaves(30, 2)
      .fill(9, 9.2, 4, 14.5)
      .fill(12, 12.2, 4, 7)
      .fill(15, 15.2, 11, 14.5)
      .fill(20, 21, 8, 9.5);
    expect(startsOf(on)).toEqual([]);
  });
});

test('a word that touches a final bar line begins there', () => {
  const on = word(drawnStaves(30, 2), 10, 8).fill(9.2, 10.2, 4, 14.5);
  expect(startsOf(on)).toEqual([9.2]);
});

test('words and the frame or sign that they have grown together with are places of their own', () => {
  const on = word(drawnStaves(30), 10, -3).fill(11.4, 13.4, -6, -2.9);
  const rows = placesAbove(on).map(({ x0, y0, y1 }) => [x0, y0 - 126, y1 - 126].map((v) => v / UNIT));
  const starts = (from: number, to: number) =>
    rows.filter(([, y0, y1]) => Math.abs(y0! - from) < 0.4 && Math.abs(y1! - to) < 0.4).map(([x0]) => x0);
  expect(starts(-6, -3.2)[0]).toBeCloseTo(11.4, 0);
  expect(starts(-3.2, -1.5)).not.toEqual([]);
});

describe('a sign that hangs down to the staff', () => {
  test('is a place as wide as a segno is', () => {
    expect(startsOf(drawnStaves(30).fill(10, 12, -3, 0.2))).toEqual([10]);
  });
  test('is none where it is a stem, or low as a note over the staff', () => {
    expect(startsOf(drawnStaves(30).fill(10, 10.2, -3, 0.2).fill(14, 15.3, -1.5, 0.2))).toEqual([]);
  });
});
