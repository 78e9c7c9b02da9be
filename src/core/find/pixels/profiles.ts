import { kernels, lent, VECTOR } from '../kernels/kernels.ts';
import type { Darkness } from './darkness.ts';

/** What a page shows row by row in upright strips: the mean darkness of each row, 0–255. */
export interface Profiles {
  /** Width of a strip in pixels. */
  readonly strip: number;
  readonly rows: readonly Float32Array[];
}

/** Plain profiles of all strips. */
export function plainProfiles({ width, height, ink }: Darkness, strip: number): Profiles {
  const count = Math.floor(width / strip);
  const { at, floats } = lent(4 * height);
  const [profile] = at;
  const rows = Array.from({ length: count }, (_, s) => {
    kernels().plainProfile(ink, width, height, s * strip, strip, profile);
    return floats.slice(profile / 4, profile / 4 + height);
  });
  return { strip, rows };
}

/**
 * Profiles of what is thin from top to bottom, so that heads, beams and letters fall away.
 * @param reach pixels up and down at which a line must have ended
 * @param slope of the lines, pixels down for each pixel to the right
 */
export function lineProfiles(
  { width, height, ink }: Darkness,
  strip: number,
  reach: number,
  slope: number,
): Profiles {
  const count = Math.floor(width / strip);
  const shifts = Array.from({ length: strip }, (_, x) => Math.round(slope * (x + 0.5 - strip / 2)));
  const runs = runsOf(shifts);
  const margin = reach + Math.max(...shifts.map(Math.abs));
  const { at, words, floats } = lent(8 * runs.length, 4 * height);
  const [runsAt, profile] = at;
  words.set(runs.flat(), runsAt / 4);
  floats.fill(0, profile / 4, profile / 4 + height);
  const rows = Array.from({ length: count }, (_, s) => {
    kernels().lineProfile(ink, width, height, s * strip, strip, reach, runsAt, runs.length, margin, profile);
    return floats.slice(profile / 4, profile / 4 + height);
  });
  return { strip, rows };
}

/** How often each value is there in a row, at most as often as a vector is long, and the value. */
function runsOf(values: readonly number[]): (readonly [count: number, value: number])[] {
  const runs: [number, number][] = [];
  for (const value of values) {
    const last = runs.at(-1);
    if (last?.[1] === value && last[0] < VECTOR) last[0]++;
    else runs.push([1, value]);
  }
  return runs;
}

/** Changes from row to row: thin lines stand out from broad shadows. */
function changesIn(row: Float32Array, found: Float32Array): void {
  found.fill(0);
  for (let y = 1; y + 1 < row.length; y++) found[y] = row[y + 1]! - row[y - 1]!;
}

/** Every so-manieth strip is enough to tell the distance of staff lines. */
const EVERY = 2;

/** How alike the page is to itself so many pixels further down, 1 at 0; lags up to `most`. */
export function likeness({ rows }: Profiles, most: number): Float32Array {
  const found = new Float32Array(most + 1);
  const length = rows[0]?.length ?? 0;
  // Beyond the last row there are zeros.
  const { at, floats } = lent(4 * (length + most));
  const [change] = at;
  for (let s = 0; s < rows.length; s += EVERY) {
    changesIn(rows[s]!, floats.subarray(change / 4, change / 4 + length + most));
    for (let lag = 0; lag <= most; lag++) found[lag]! += kernels().product(change, change + 4 * lag, length);
  }
  const whole = found[0]! || 1;
  return found.map((value) => value / whole);
}

/** Slope of the lines on the page: neighbouring strips laid over each other where they agree best. */
export function slopeOf({ rows, strip }: Profiles): number {
  const length = rows[0]?.length ?? 0;
  const { at, floats } = lent(...rows.map(() => 4 * length));
  rows.forEach((row, s) => changesIn(row, floats.subarray(at[s]! / 4, at[s]! / 4 + length)));
  const most = Math.max(2, Math.round(0.09 * strip));
  const sums: number[] = [];
  for (let shift = -most; shift <= most; shift++) {
    let sum = 0;
    for (let s = 0; s + 1 < rows.length; s++) {
      const [one, other] = [at[s]! + 4 * Math.max(0, -shift), at[s + 1]! + 4 * Math.max(0, shift)];
      sum += kernels().product(one, other, length - Math.abs(shift));
    }
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
