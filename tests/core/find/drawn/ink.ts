/** Pieces of ink for pages that tests put together by hand, in page points. */
import type { InkGlyph, InkLine, InkShape } from '../../../../src/core/find/types.ts';

export const line = (x0: number, y0: number, x1: number, y1: number, thickness = 0.6): InkLine => ({
  kind: 'line',
  x0,
  y0,
  x1,
  y1,
  thickness,
  light: 0,
});

/** A filled shape, its left upper corner first; unless `ring` says more it is as wide and high everywhere. */
export const shape = (
  x: number,
  y: number,
  wide: number,
  high: number,
  outline: string,
  ring: readonly number[] = [x, y, x + wide, y, x + wide, y + high, x, y + high],
): InkShape => ({
  kind: 'shape',
  box: [x, y, x + wide, y + high],
  filled: true,
  outline,
  rings: [ring],
  light: 0,
});

/** A head whose left end stands at x, its middle at y. */
export const head = (x: number, y: number): InkShape =>
  shape(x, y - 2.5, 6.5, 5, 'head', [x, y, x + 3.2, y - 2.5, x + 6.5, y, x + 3.2, y + 2.5]);

/** Five lines, the first at `top`. */
export const staff = (top: number, x0 = 50, x1 = 550, space = 5): InkLine[] =>
  [0, 1, 2, 3, 4].map((i) => line(x0, top + i * space, x1, top + i * space, (0.6 * space) / 5));

/** A letter of words on a base line, so wide and high, in points. */
export const letter = (
  x: number,
  y: number,
  unicode: string,
  { size = 10, wide = 5, high = 7 } = {},
): InkGlyph => ({
  kind: 'glyph',
  box: [x, y - high, x + wide, y],
  x,
  y,
  advance: wide,
  size,
  angle: 0,
  font: 'Times-Roman',
  unicode,
  name: '',
  outline: unicode,
  rings: [],
  light: 0,
});
