import { boxOf } from '../../core/find/rings.ts';
import type { PointBox } from '../../core/find/types.ts';

/**
 * Affine maps as pdf.js gives them: [a, b, c, d, e, f] takes (x, y) to (ax + cy + e, bx + dy + f). Here they are read by
 * index: each letter of a page needs a dozen, and until the engine has compiled this, taking an array apart is slow.
 */
export type Matrix = readonly [number, number, number, number, number, number];

export const identity: Matrix = [1, 0, 0, 1, 0, 0];

/** `inner` first, then `outer`. */
export function times(outer: Matrix, inner: Matrix): Matrix {
  return [
    outer[0] * inner[0] + outer[2] * inner[1],
    outer[1] * inner[0] + outer[3] * inner[1],
    outer[0] * inner[2] + outer[2] * inner[3],
    outer[1] * inner[2] + outer[3] * inner[3],
    xAt(outer, inner[4], inner[5]),
    yAt(outer, inner[4], inner[5]),
  ];
}

/** Where a point comes to lie. */
export const xAt = (m: Matrix, x: number, y: number): number => m[0] * x + m[2] * y + m[4];
export const yAt = (m: Matrix, x: number, y: number): number => m[1] * x + m[3] * y + m[5];

/** The upright box around a box once it has been moved. */
export function boxUnder(matrix: Matrix, box: PointBox): PointBox {
  const corners: number[] = [];
  for (let i = 0; i < 4; i++) {
    const x = box[i % 2 === 0 ? 0 : 2];
    const y = box[i < 2 ? 1 : 3];
    corners.push(xAt(matrix, x, y), yAt(matrix, x, y));
  }
  return boxOf([corners]);
}

/** The square that an image fills. */
export const UNIT: PointBox = [0, 0, 1, 1];

/** How much longer a length becomes; the mean where that depends on direction. */
export function scaleOf(m: Matrix): number {
  return Math.sqrt(Math.abs(m[0] * m[3] - m[1] * m[2]));
}

/** Six finite numbers, or null. */
export function matrixFrom(value: unknown): Matrix | null {
  if (!ArrayBuffer.isView(value) && !Array.isArray(value)) return null;
  const list = value as ArrayLike<number>;
  if (list.length !== 6) return null;
  for (let i = 0; i < 6; i++) if (!Number.isFinite(list[i])) return null;
  return [list[0]!, list[1]!, list[2]!, list[3]!, list[4]!, list[5]!];
}
