/** The kernels that look for staves against the same in plain loops, over pixels by chance. */
import { expect, test } from 'vitest';
import { kernels, lent } from '../../../src/core/find/kernels/kernels.ts';
import { Random } from '../../corpus/tunes/random.ts';

const bytesBy = (random: Random, count: number) =>
  Uint8Array.from({ length: count }, () => random.below(256));
const [WIDTH, HEIGHT] = [157, 70];
const page = bytesBy(new Random(11), WIDTH * HEIGHT);
const at = (x: number, y: number) => page[y * WIDTH + x]!;
/** How much darker a pixel is than those so far above and below it. */
const thin = (x: number, y: number, reach: number) => at(x, y) - Math.max(at(x, y - reach), at(x, y + reach));
/** Heights that go down a little from left to right. */
const sloping = (from: number) => Float32Array.from({ length: WIDTH }, (_, x) => from + 0.03 * x);

test('a comb of five teeth fits best where five lines stand', () => {
  const [length, space] = [203, 9.5];
  const random = new Random(12);
  const profile = Float32Array.from({ length }, () => random.below(20));
  for (let line = 0; line < 5; line++) profile[Math.round(80 + line * space)] = 200;
  const { at: lentAt, floats } = lent(4 * length + 64, 4 * length + 64, 4 * length + 64);
  const [rows, best, sizes] = lentAt.map((byte) => byte / 4) as [number, number, number];
  floats.set(profile, rows);
  for (const part of [best, sizes]) floats.fill(0, part, part + length + 16);
  const faintest = 10;
  kernels().combs(lentAt[0], length, space, faintest, lentAt[1], lentAt[2]);
  const between = (y: number, away: number) => {
    const low = y + Math.floor(away);
    return profile[low]! + (profile[low + 1]! - profile[low]!) * (away - Math.floor(away));
  };
  const margin = Math.ceil(3 * space) + 1;
  const scores = Array.from(profile, (middle, y) => {
    if (y < margin || y >= length - margin || middle < faintest) return 0;
    const teeth = [-2, -1, 1, 2].map((k) => between(y, k * space));
    const gaps = [-1.5, -0.5, 0.5, 1.5].map((k) => between(y, k * space));
    const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
    return Math.max(0, (sum([...teeth, middle]) + Math.min(...teeth, middle)) / 6 - sum(gaps) / 4);
  });
  const found = Array.from({ length }, (_, y) => floats[best + y]!);
  scores.forEach((score, y) => {
    expect(found[y], `row ${y}`).toBeCloseTo(score, 3);
    expect(floats[sizes + y], `row ${y}`).toBe(score > 0 ? space : 0);
  });
  expect(found.indexOf(Math.max(...found))).toBe(Math.round(80 + 2 * space));
});

test('a line is seen in the columns in which something thin crosses at its height', () => {
  const [reach, seen, line, from, to] = [3, 60, 1, 5, 150];
  const [centre, spaces] = [sloping(30), new Float32Array(WIDTH).fill(7.25)];
  const { at: lentAt, bytes, floats } = lent(page.length, 4 * WIDTH, 4 * WIDTH, WIDTH);
  const [pageAt, centreAt, spacesAt, foundAt] = lentAt as [number, number, number, number];
  bytes.set(page, pageAt);
  bytes.fill(9, foundAt, foundAt + WIDTH);
  floats.set(centre, centreAt / 4);
  floats.set(spaces, spacesAt / 4);
  // prettier-ignore
  kernels().lineAlong(pageAt, WIDTH, HEIGHT, centreAt, spacesAt, line, reach, seen, from, to, foundAt);
  const wanted = Array.from({ length: WIDTH }, (_, x) => {
    if (x < from || x >= to) return 9;
    const row = Math.round(centre[x]! + line * spaces[x]!);
    return [row - 1, row, row + 1].some((y) => thin(x, y, reach) > seen) ? 1 : 0;
  });
  expect([...bytes.subarray(foundAt, foundAt + WIDTH)]).toEqual(wanted);
  expect(new Set(wanted)).toEqual(new Set([0, 1, 9]));
});

test('rows are the mean of what is thin in them, and nothing where the page ends too near', () => {
  const [reach, from, to, rows] = [4, 20, 120, HEIGHT];
  const { at: lentAt, bytes, floats } = lent(page.length, 4 * rows);
  const [pageAt, foundAt] = lentAt as [number, number];
  bytes.set(page, pageAt);
  kernels().thinRows(pageAt, WIDTH, HEIGHT, from, to, 0, rows, reach, foundAt);
  for (let y = 0; y < rows; y++) {
    const columns = Array.from({ length: to - from }, (_, k) => from + k);
    const sum = columns.reduce((all, x) => all + Math.max(0, thin(x, y, reach)), 0);
    const isNear = y < reach || y + reach >= HEIGHT;
    expect(floats[foundAt / 4 + y], `row ${y}`).toBe(isNear ? 0 : Math.fround(sum / (to - from)));
  }
});

test('between two staves the rows with ink are known, in places of a few columns', () => {
  const [together, rows, faint] = [4, 12, 253];
  const [above, below] = [sloping(20), sloping(44)];
  const { at: lentAt, bytes, floats } = lent(page.length, 4 * WIDTH, 4 * WIDTH, rows * WIDTH);
  const [pageAt, aboveAt, belowAt, foundAt] = lentAt as [number, number, number, number];
  bytes.set(page, pageAt);
  floats.set(above, aboveAt / 4);
  floats.set(below, belowAt / 4);
  // prettier-ignore
  kernels().inkBetween(pageAt, WIDTH, HEIGHT, 0, WIDTH, together, aboveAt, belowAt, rows, faint, foundAt);
  const seen = new Set<number>();
  for (let place = 0; place * together < WIDTH; place++)
    for (let row = 1; row < rows; row++) {
      const first = place * together;
      const last = Math.min(WIDTH, first + together) - 1;
      const heights = [first, last].map((x) => above[x]! + ((below[x]! - above[x]!) * row) / rows);
      let is = 0;
      for (let y = Math.floor(Math.min(...heights)) - 1; y <= Math.floor(Math.max(...heights)) + 2; y++)
        for (let x = first; x <= last; x++) if (at(x, y) > faint) is = 1;
      expect(bytes[foundAt + place * rows + row], `place ${place}, row ${row}`).toBe(is);
      seen.add(is);
    }
  expect(seen).toEqual(new Set([0, 1]));
});
