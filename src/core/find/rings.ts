import type { PointBox } from './types.ts';

/** The box around closed polygons, flat x, y, x, y …, in the same unit. */
export function boxOf(rings: readonly (readonly number[])[]): PointBox {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const points of rings)
    for (let i = 0; i < points.length; i += 2) {
      x0 = Math.min(x0, points[i]!);
      x1 = Math.max(x1, points[i]!);
      y0 = Math.min(y0, points[i + 1]!);
      y1 = Math.max(y1, points[i + 1]!);
    }
  return [x0, y0, x1, y1];
}
