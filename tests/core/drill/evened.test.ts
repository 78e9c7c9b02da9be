import { expect, it } from 'vitest';
import { evenLight } from '../../../src/core/drill/evened.ts';

const [WIDTH, HEIGHT] = [60, 40];
/** Every tenth row is ink; the light falls off from left to right. */
const isInk = (y: number) => y % 10 === 5;
const page = (from: number, to: number) =>
  Uint8ClampedArray.from({ length: 4 * WIDTH * HEIGHT }, (_, i) => {
    const [x, y] = [(i >> 2) % WIDTH, Math.floor((i >> 2) / WIDTH)];
    const light = from + ((to - from) * x) / WIDTH;
    return i % 4 === 3 ? 255 : light * (isInk(y) ? 0.3 : 1);
  });
const rows = (pixels: Uint8ClampedArray, wanted: (y: number) => boolean) =>
  Array.from({ length: WIDTH * HEIGHT }, (_, i) => i)
    .filter((i) => wanted(Math.floor(i / WIDTH)))
    .map((i) => pixels[4 * i]!);

it('under a shadow every part of the paper becomes light and every ink dark, however deep the shadow is', () => {
  const pixels = page(150, 50);
  // In the middle, the paper at the dark end is hardly lighter than the ink at the light end.
  expect(Math.max(...rows(page(150, 50), isInk))).toBeGreaterThan(40);
  expect(evenLight(pixels, WIDTH, HEIGHT, 20, { paper: 0.9, ink: 0.1 })).toBe(true);
  expect(Math.min(...rows(pixels, (y) => !isInk(y)))).toBeGreaterThan(0.7 * 255);
  expect(Math.max(...rows(pixels, isInk))).toBe(Math.round(0.1 * 255));
});

it('a piece in the light stays as it is', () => {
  const pixels = page(230, 225);
  expect(evenLight(pixels, WIDTH, HEIGHT, 20, { paper: 0.9, ink: 0.1 })).toBe(false);
  expect(pixels).toEqual(page(230, 225));
});
