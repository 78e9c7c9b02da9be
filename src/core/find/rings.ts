import type { PointBox } from './types.ts';

/** The box around closed polygons, flat x, y, x, y …, in the same unit. */
export function boxOf(rings: readonly (readonly number[])[]): PointBox {
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (const points of rings)
    for (let i = 0; i < points.length; i += 2) {
      // Not taken apart as a pair: most of a page is read before the engine compiles this, and that would be slow.
      const x = points[i]!;
      const y = points[i + 1]!;
      if (x < x0) x0 = x;
      if (x > x1) x1 = x;
      if (y < y0) y0 = y;
      if (y > y1) y1 = y;
    }
  return [x0, y0, x1, y1];
}

/** What is this many times as long as it is thick may be a line. */
const LONG = 3;

/** It is so long for its thickness that a line may fill it. */
export function isLong(box: PointBox): boolean {
  const width = box[2] - box[0];
  const height = box[3] - box[1];
  return Math.max(width, height) > 0 && Math.max(width, height) >= LONG * Math.min(width, height);
}
