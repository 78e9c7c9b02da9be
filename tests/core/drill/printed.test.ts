import { expect, it } from 'vitest';
import { printedBox } from '../../../src/core/drill/printed.ts';

/** A page of 100 × 140 px that is dark where told. */
const page = (isDark: (x: number, y: number) => boolean) =>
  printedBox(
    Array.from({ length: 100 * 140 }, (_, i) => isDark(i % 100, Math.floor(i / 100))),
    100,
    140,
  );
/** Lines of music from x 20 to 79, y 30 to 89. */
const music = (x: number, y: number) =>
  x >= 20 && x < 80 && y >= 30 && y < 90 && (y % 4 === 2 || x % 7 === 6);

it('is the box around the ink, with air of 2 % of the width', () => {
  expect(page(music)).toEqual([0.18, 28 / 140, 0.82, 92 / 140]);
});

it('leaves out the shadows at the edges of a scan, and specks of dust', () => {
  const shadow = (x: number, y: number) => x < 5 || y > 132 || (x === 5 && y % 2 === 0);
  const dust = (x: number, y: number) => x === 90 && y === 12;
  expect(page((x, y) => music(x, y) || shadow(x, y) || dust(x, y))).toEqual(page(music));
});

it('never leaves out what reaches the edge of the page without being a shadow', () => {
  const [x0, , x1] = page((x, y) => y >= 30 && y < 90 && y % 4 === 2 && x >= 0);
  expect([x0, x1]).toEqual([0, 1]);
});

it('is the whole page where nothing is printed', () => {
  expect(page(() => false)).toEqual([0, 0, 1, 1]);
  expect(page(() => true)).toEqual([0, 0, 1, 1]);
});
