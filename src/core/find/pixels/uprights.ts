import type { Straight } from './straight.ts';

/** Darkness from which a pixel is ink, 0–255. */
export const INK = 90;

/** A fainter threshold, for a first look at pages out of focus. */
export const FAINT = 52;

/** Share of the rows from `v0` to `v1` in which each column, or one beside it, is darker than `ink`: 0–1. */
export function uprightCover({ width, data }: Straight, v0: number, v1: number, ink = FAINT): Float32Array {
  const counts = new Float32Array(width);
  for (let v = v0; v <= v1; v++)
    for (let u = 1, i = v * width + 1; u < width - 1; u++, i++)
      if (data[i - 1]! > ink || data[i]! > ink || data[i + 1]! > ink) counts[u]!++;
  const rows = v1 - v0 + 1;
  return counts.map((count) => count / rows);
}

/** Mean darkness of each column over given rows, 0–255. */
export function columnDarkness({ width, data }: Straight, rows: readonly number[]): Float32Array {
  const sums = new Float32Array(width);
  for (const v of rows) for (let u = 0, i = v * width; u < width; u++, i++) sums[u]! += data[i]!;
  return sums.map((sum) => sum / rows.length);
}

/** Rows of the four spaces of a staff, without its lines. */
export function spaceRows(top: number, unit: number): number[] {
  const rows: number[] = [];
  for (let k = 0; k < 4; k++)
    for (let v = Math.round((k + 0.25) * unit); v <= (k + 0.75) * unit; v++) rows.push(top + v);
  return rows;
}
