import type { Straight } from './straight.ts';
import { tensor, type Tensor } from './net.ts';

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

/** The strip of staff `k`. */
export function stripOf({ width, height, data, unit, tops }: Straight, k: number): Strip {
  const rows = (SPACES * unit) / POOL;
  const columns = Math.floor(width / POOL);
  const out = new Uint8Array(rows * columns);
  const first = tops[k]! - ABOVE * unit;
  for (let y = 0; y < rows; y++) {
    const v = first + y * POOL;
    if (v < 0 || v + 1 >= height) continue;
    for (let x = 0, i = v * width; x < columns; x++, i += POOL)
      out[y * columns + x] = (data[i]! + data[i + 1]! + data[i + width]! + data[i + width + 1]! + 2) >> 2;
  }
  return { rows, columns, data: out };
}

/** A strip as the net's input: mean 0 and deviation 1 over the strip, whatever its paper and its ink. */
export function inputOf({ rows, columns, data }: Strip, pad: number): Tensor {
  let [sum, squares] = [0, 0];
  for (const value of data) {
    sum += value;
    squares += value * value;
  }
  const mean = sum / data.length;
  const scale = 1 / (Math.sqrt(Math.max(0, squares / data.length - mean * mean)) || 1);
  const input = tensor(1, rows, columns, pad);
  for (let y = 0, i = 0; y < rows; y++)
    for (let x = 0, at = y * (columns + 2 * pad) + pad; x < columns; x++)
      input.data[at + x] = (data[i++]! - mean) * scale;
  return input;
}
