import { kernels, lent } from '../kernels/kernels.ts';
import type { Profiles } from './profiles.ts';
import { vertex } from './profiles.ts';

/** Five equal lines seen in one strip. */
export interface Comb {
  /** Index of the strip. */
  readonly strip: number;
  /** Height of the third line, pixels. */
  readonly y: number;
  /** Distance of two lines, pixels. */
  readonly space: number;
  /** How much darker the lines are than the spaces, 0–255. */
  readonly score: number;
  /** Darkness where a sixth line would be, above or below, as a share of the five. */
  readonly sixth: number;
}

/** Other sizes that are tried around the expected one. */
const SIZES = [0.91, 0.94, 0.97, 1, 1.03, 1.06, 1.09];
/** A comb must be this dark, 0–255, whatever the rest of the page is. */
const LEAST = 6;
/** Where the third line would be fainter than this, there is none. */
const FAINTEST = 1;

/** Each row with half of those beside it. */
function soft(row: Float32Array): Float32Array {
  const found = new Float32Array(row.length);
  for (let y = 0, before = 0; y < row.length; y++) {
    const value = row[y]!;
    const after = y + 1 < row.length ? row[y + 1]! : 0;
    found[y] = (2 * value + before + after) / 4;
    before = value;
  }
  return found;
}

/** Combs of all strips, best first, none within two spaces of a better one of its strip. */
export function combsOf({ rows }: Profiles, expected: number): Comb[] {
  const found: Comb[] = [];
  rows.forEach((row, strip) => found.push(...combsOfStrip(soft(row), strip, expected)));
  return found.sort((a, b) => b.score - a.score);
}

function combsOfStrip(row: Float32Array, strip: number, expected: number): Comb[] {
  const { at, bytes, floats } = lent(row.byteLength, row.byteLength, row.byteLength);
  const [profile, bestAt, sizesAt] = at;
  floats.set(row, profile / 4);
  bytes.fill(0, bestAt, sizesAt + row.byteLength);
  for (const size of SIZES) kernels().combs(profile, row.length, size * expected, FAINTEST, bestAt, sizesAt);
  const best = floats.subarray(bestAt / 4, bestAt / 4 + row.length);
  const sizes = floats.subarray(sizesAt / 4, sizesAt / 4 + row.length);
  const peaks: Comb[] = [];
  for (let y = 1; y + 1 < row.length; y++) {
    const score = best[y]!;
    if (score < LEAST || score < best[y - 1]! || score <= best[y + 1]!) continue;
    const space = sizes[y]!;
    peaks.push({
      strip,
      y: y + vertex(best[y - 1], score, best[y + 1]),
      space,
      score,
      sixth: sixthAt(row, y, space),
    });
  }
  peaks.sort((a, b) => b.score - a.score);
  const kept: Comb[] = [];
  for (const peak of peaks) if (kept.every((one) => Math.abs(one.y - peak.y) > 2 * expected)) kept.push(peak);
  return kept;
}

function at(row: Float32Array, y: number): number {
  const low = y | 0;
  return row[low]! + (row[low + 1]! - row[low]!) * (y - low);
}

function sixthAt(row: Float32Array, y: number, d: number): number {
  let teeth = 0;
  for (let k = -2; k <= 2; k++) teeth += at(row, y + k * d);
  return Math.max(at(row, y - 3 * d), at(row, y + 3 * d)) / (teeth / 5 || 1);
}
