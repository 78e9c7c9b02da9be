import { isBare, type Darkness } from './darkness.ts';
import type { Picture } from './picture.ts';

/** What a page shows row by row in upright strips: the mean darkness of each row, 0–255. */
export interface Profiles {
  /** Width of a strip in pixels. */
  readonly strip: number;
  readonly rows: readonly Float32Array[];
}

/** Plain profiles of all strips. */
export function plainProfiles({ width, height, data }: Picture, strip: number): Profiles {
  const count = Math.floor(width / strip);
  const rows = Array.from({ length: count }, () => new Float32Array(height));
  for (let y = 0; y < height; y++)
    for (let s = 0; s < count; s++) {
      let sum = 0;
      for (let i = y * width + s * strip, end = i + strip; i < end; i++) sum += data[i]!;
      rows[s]![y] = sum / strip;
    }
  return { strip, rows };
}

/**
 * Profiles of what is thin from top to bottom, so that heads, beams and letters fall away.
 * @param reach pixels up and down at which a line must have ended
 * @param slope of the lines, pixels down for each pixel to the right
 */
export function lineProfiles(page: Darkness, strip: number, reach: number, slope: number): Profiles {
  const { width, height, data } = page;
  const count = Math.floor(width / strip);
  const rows = Array.from({ length: count }, () => new Float32Array(height));
  const shift = Int32Array.from({ length: strip }, (_, x) => Math.round(slope * (x + 0.5 - strip / 2)));
  const places = shift.map((down, x) => down * width + x);
  const far = reach * width;
  const most = Math.max(...shift.map(Math.abs));
  const margin = reach + most;
  for (let y = margin; y < height - margin; y++)
    for (let s = 0; s < count; s++) {
      // Most of a page is paper.
      if (isBare(page, s * strip, (s + 1) * strip - 1, y - most, y + most)) continue;
      let sum = 0;
      const start = y * width + s * strip;
      for (let x = 0; x < strip; x++) {
        const i = start + places[x]!;
        const dark = data[i]!;
        // No branches: on grain there is no guessing which way they go.
        const more = dark - data[i - far]!;
        const less = dark - data[i + far]!;
        const ridge = less + ((more - less) & ((more - less) >> 31));
        sum += ridge & ~(ridge >> 31);
      }
      rows[s]![y] = sum / strip;
    }
  return { strip, rows };
}

/** Changes from row to row: thin lines stand out from broad shadows. `beyond`: zeros at the end, so many. */
function changes(row: Float32Array, beyond = 0): Float64Array {
  const found = new Float64Array(row.length + beyond);
  for (let y = 1; y + 1 < row.length; y++) found[y] = Math.fround(row[y + 1]! - row[y - 1]!);
  return found;
}

function product(a: Float64Array, b: Float64Array, shift: number): number {
  let sum = 0;
  for (let y = Math.max(0, -shift), end = Math.min(a.length, b.length - shift); y < end; y++)
    sum += a[y]! * b[y + shift]!;
  return sum;
}

/** Every so-manieth strip is enough to tell the distance of staff lines. */
const EVERY = 2;

/** How alike the page is to itself so many pixels further down, 1 at 0; lags up to `most`. */
export function likeness({ rows }: Profiles, most: number): Float32Array {
  const found = new Float32Array(most + 1);
  for (let s = 0; s < rows.length; s += EVERY) {
    const { length } = rows[s]!;
    const change = changes(rows[s]!, most + TOGETHER);
    for (let lag = 0; lag <= most; lag += TOGETHER) addLags(found, change, length, lag);
  }
  const whole = found[0]! || 1;
  return found.map((value) => value / whole);
}

/** So many lags are added up in one go. */
const TOGETHER = 4;

/** Adds products of rows with those `lag` further down and with the next ones; beyond `length` there are zeros. */
function addLags(found: Float32Array, change: Float64Array, length: number, lag: number): void {
  let [a, b, c, d] = [0, 0, 0, 0];
  for (let y = 0, far = lag; y < length; y++, far++) {
    const value = change[y]!;
    a += value * change[far]!;
    b += value * change[far + 1]!;
    c += value * change[far + 2]!;
    d += value * change[far + 3]!;
  }
  [a, b, c, d].forEach((sum, k) => (found[lag + k]! += sum));
}

/** Slope of the lines on the page: neighbouring strips laid over each other where they agree best. */
export function slopeOf({ rows, strip }: Profiles): number {
  const change = rows.map((row) => changes(row));
  const most = Math.max(2, Math.round(0.09 * strip));
  const sums: number[] = [];
  for (let shift = -most; shift <= most; shift++) {
    let sum = 0;
    for (let s = 0; s + 1 < change.length; s++) sum += product(change[s]!, change[s + 1]!, shift);
    sums.push(sum);
  }
  const best = sums.indexOf(Math.max(...sums));
  return (best - most + vertex(sums[best - 1], sums[best]!, sums[best + 1])) / strip;
}

/** Where between −0.5 and 0.5 the parabola through three values has its top. */
export function vertex(before: number | undefined, at: number, after: number | undefined): number {
  if (before === undefined || after === undefined) return 0;
  const bend = before - 2 * at + after;
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
}
