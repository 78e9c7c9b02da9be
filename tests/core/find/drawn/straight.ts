/** Systems already pulled straight, drawn by hand: twelve pixels a space, 255 is black. */
import type { Straight } from '../../../../src/core/find/pixels/straight.ts';

export const UNIT = 12;
/** Rows of the staves' top lines. */
const TOPS = [126, 300];
const HEIGHT = 400;

export interface Drawn extends Straight {
  /** Fills a rectangle given in spaces: columns from the picture's left, rows from the top line of the first staff. */
  readonly fill: (x0: number, x1: number, y0: number, y1: number, dark?: number) => Drawn;
  /** Fills an ellipse inside such a rectangle; `hole` of its size is left white. */
  readonly oval: (x0: number, x1: number, y0: number, y1: number, hole?: number) => Drawn;
}

/** One staff or two, so many spaces wide, with their lines and nothing else. */
export function drawnStaves(wide: number, staves: 1 | 2 = 1): Drawn {
  const width = (wide + 6) * UNIT;
  const data = new Uint8Array(width * HEIGHT);
  const tops = TOPS.slice(0, staves);
  const paint = (u: number, v: number, dark: number) => {
    if (u >= 0 && u < width && v >= 0 && v < HEIGHT)
      data[v * width + u] = Math.max(data[v * width + u]!, dark);
  };
  const drawn: Drawn = {
    ...{ width, height: HEIGHT, data, unit: UNIT, tops },
    ends: tops.map(() => ({ x0: 3 * UNIT, x1: (wide + 3) * UNIT })),
    toPage: (u, v) => [u, v],
    fill(x0, x1, y0, y1, dark = 255) {
      for (let v = Math.round(TOPS[0]! + y0 * UNIT); v < TOPS[0]! + y1 * UNIT; v++)
        for (let u = Math.round(x0 * UNIT); u < x1 * UNIT; u++) paint(u, v, dark);
      return drawn;
    },
    oval(x0, x1, y0, y1, hole = 0) {
      const [a, b] = [(x1 - x0) / 2, (y1 - y0) / 2];
      for (let v = 0; v < HEIGHT; v++)
        for (let u = 0; u < width; u++) {
          const dx = ((u + 0.5) / UNIT - x0) / a - 1;
          const dy = ((v + 0.5 - TOPS[0]!) / UNIT - y0) / b - 1;
          const away = dx * dx + dy * dy;
          if (away < 1 && away >= hole * hole) paint(u, v, 255);
        }
      return drawn;
    },
  };
  for (const top of tops)
    for (let k = 0; k < 5; k++) {
      const y = (top - TOPS[0]!) / UNIT + k;
      drawn.fill(3, wide + 3, y - 0.08, y + 0.08);
    }
  return drawn;
}
