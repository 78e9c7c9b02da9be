/** Staves of hairlines on a page with grain, as an old copier or a coarse scan leaves them. */
import { expect, test } from 'vitest';
import { darknessOf } from '../../../src/core/find/pixels/darkness.ts';
import { lanesOf, type Picture } from '../../../src/core/find/pixels/index.ts';
import { Random } from '../../corpus/tunes/random.ts';

const SPACE = 8;
const [WIDTH, HEIGHT] = [900, 600];
const TOPS = [100, 200, 300, 400];

/** Grey paper with grain, lines this much darker, and heads that are black. */
function grainy(line: number, tops: readonly number[]): Picture {
  const random = new Random(11);
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const grain = 44 * (random.next() + random.next() - 1);
      const top = tops.find((one) => y >= one && y <= one + 4 * SPACE);
      const isLine = top !== undefined && (y - top) % SPACE === 0 && x > 60 && x < 840;
      const isHead = top !== undefined && x > 60 && x < 840 && x % 60 < 9 && Math.abs(y - top - 20) < 4;
      data[y * WIDTH + x] = Math.max(0, Math.min(255, (isHead ? 30 : 225 - (isLine ? line : 0)) + grain));
    }
  return { width: WIDTH, height: HEIGHT, data };
}

const lanes = (picture: Picture) => {
  const page = darknessOf(picture);
  return page === null ? [] : lanesOf(page);
};

test.each([
  ['dark', 150],
  ['faint', 45],
])('staves of %s lines are traced from end to end', (_, line) => {
  const found = lanes(grainy(line, TOPS)).sort((a, b) => a.centre[450]! - b.centre[450]!);
  expect(found.map(({ centre }) => Math.round(centre[450]!))).toEqual(TOPS.map((top) => top + 2 * SPACE));
  for (const { x0, x1 } of found) {
    expect(Math.abs(x0 - 60)).toBeLessThan(2 * SPACE);
    expect(Math.abs(x1 - 840)).toBeLessThan(2 * SPACE);
  }
});

test('grain alone has no staves, nor have six lines', () => {
  expect(lanes(grainy(0, []))).toEqual([]);
  const six = grainy(62, TOPS);
  for (const top of TOPS)
    for (let x = 61; x < 840; x++) {
      const i = (top - SPACE) * WIDTH + x;
      six.data[i] = Math.max(0, six.data[i]! - 62);
    }
  expect(lanes(six)).toEqual([]);
});
