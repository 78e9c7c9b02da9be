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
export function lineProfiles(page: Picture, strip: number, reach: number, slope: number): Profiles {
  const { width, height, data } = page;
  const count = Math.floor(width / strip);
  const rows = Array.from({ length: count }, () => new Float32Array(height));
  const shift = Int32Array.from({ length: strip }, (_, x) => Math.round(slope * (x + 0.5 - strip / 2)));
  const places = shift.map((down, x) => down * width + x);
  const far = reach * width;
  const margin = reach + Math.max(...shift.map(Math.abs));
  for (let y = margin; y < height - margin; y++)
    for (let s = 0; s < count; s++) {
      let sum = 0;
      const start = y * width + s * strip;
      for (let x = 0; x < strip; x++) {
        const i = start + places[x]!;
        const dark = data[i]!;
        // Most of a page is paper.
        if (dark === 0) continue;
        const above = data[i - far]!;
        const below = data[i + far]!;
        const ridge = dark - (above > below ? above : below);
        if (ridge > 0) sum += ridge;
      }
      rows[s]![y] = sum / strip;
    }
  return { strip, rows };
}

/** Changes from row to row: thin lines stand out from broad shadows. */
function changes(row: Float32Array): Float32Array {
  return row.map((_, y) => (y === 0 || y === row.length - 1 ? 0 : row[y + 1]! - row[y - 1]!));
}

function product(a: Float32Array, b: Float32Array, shift: number): number {
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
    const change = changes(rows[s]!);
    for (let lag = 0; lag <= most; lag++) found[lag]! += product(change, change, lag);
  }
  const whole = found[0]! || 1;
  return found.map((value) => value / whole);
}

/** Slope of the lines on the page: neighbouring strips laid over each other where they agree best. */
export function slopeOf({ rows, strip }: Profiles): number {
  const change = rows.map(changes);
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
