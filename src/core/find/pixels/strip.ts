import type { Straight } from './straight.ts';

/** Pixels for a space in straightened systems. */
export const UNIT = 12;
/** Pixels of a straightened picture that become one, each way. */
export const POOL = 2;
/** What the net sees of a staff: so many spaces above its top line, and so many in all. */
const ABOVE = 2;
const SPACES = 8;

/** A staff and what is close to it, at a fixed size: darkness 0–255, row by row. */
export interface Strip {
  readonly rows: number;
  readonly columns: number;
  readonly data: Uint8Array;
}

/** The strip of staff `k`, or so many columns of it: those beside it are paper. */
export function stripOf(
  { width, height, data, unit, tops }: Straight,
  k: number,
  from = 0,
  columns = Math.floor(width / POOL),
): Strip {
  const rows = (SPACES * unit) / POOL;
  const end = Math.min(columns, Math.floor(width / POOL) - from);
  const out = new Uint8Array(rows * columns);
  const first = tops[k]! - ABOVE * unit;
  for (let y = 0; y < rows; y++) {
    const v = first + y * POOL;
    if (v < 0 || v + 1 >= height) continue;
    const start = Math.max(0, -from);
    for (let x = start, i = v * width + POOL * (from + start); x < end; x++, i += POOL)
      out[y * columns + x] = (data[i]! + data[i + 1]! + data[i + width]! + data[i + width + 1]! + 2) >> 2;
  }
  return { rows, columns, data: out };
}
