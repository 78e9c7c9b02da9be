import { boxOf } from '../../core/find/rings.ts';
import type { PointBox } from '../../core/find/types.ts';

/** Affine maps as pdf.js gives them: [a, b, c, d, e, f] takes (x, y) to (ax + cy + e, bx + dy + f). */
export type Matrix = readonly [number, number, number, number, number, number];

export const identity: Matrix = [1, 0, 0, 1, 0, 0];

/** `inner` first, then `outer`. */
export function times(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer;
  const [p, q, r, s, t, u] = inner;
  return [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f];
}

export function moved(matrix: Matrix, x: number, y: number): readonly [number, number] {
  const [a, b, c, d, e, f] = matrix;
  return [a * x + c * y + e, b * x + d * y + f];
}

/** The upright box around a box once it has been moved. */
export function boxUnder(matrix: Matrix, [x0, y0, x1, y1]: PointBox): PointBox {
  const corners = [
    moved(matrix, x0, y0),
    moved(matrix, x1, y0),
    moved(matrix, x0, y1),
    moved(matrix, x1, y1),
  ];
  return boxOf([corners.flat()]);
}

/** The square that an image fills. */
export const UNIT: PointBox = [0, 0, 1, 1];

/** How much longer a length becomes; the mean where that depends on direction. */
export function scaleOf([a, b, c, d]: Matrix): number {
  return Math.sqrt(Math.abs(a * d - b * c));
}

/** Six finite numbers, or null. */
export function matrixFrom(value: unknown): Matrix | null {
  if (!ArrayBuffer.isView(value) && !Array.isArray(value)) return null;
  const list = value as ArrayLike<number>;
  if (list.length !== 6) return null;
  for (let i = 0; i < 6; i++) if (!Number.isFinite(list[i])) return null;
  return [list[0]!, list[1]!, list[2]!, list[3]!, list[4]!, list[5]!];
}
