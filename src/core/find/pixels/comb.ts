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
  const best = new Float32Array(row.length);
  const sizes = new Float32Array(row.length);
  // Most rows are paper.
  const seen: number[] = [];
  row.forEach((value, y) => {
    if (value >= FAINTEST) seen.push(y);
  });
  for (const size of SIZES) {
    const d = size * expected;
    const margin = Math.ceil(3 * d) + 1;
    // How far between two rows a tooth or a gap lies is the same at every row.
    const [far, near] = [stepOf(-2 * d), stepOf(-d)];
    const [next, last] = [stepOf(d), stepOf(2 * d)];
    const gaps = [stepOf(-1.5 * d), stepOf(-0.5 * d), stepOf(0.5 * d), stepOf(1.5 * d)] as const;
    for (const y of seen) {
      if (y < margin || y >= row.length - margin) continue;
      const middle = row[y]!;
      const a = between(row, y, far);
      const b = between(row, y, near);
      const c = between(row, y, next);
      const e = between(row, y, last);
      // Mean of the teeth, the weakest counted twice, less the mean of the gaps.
      let score = (a + b + middle + c + e + Math.min(255, a, b, middle, c, e)) / 6;
      if (score <= best[y]!) continue;
      score -= between(row, y, gaps[0]) / 4;
      score -= between(row, y, gaps[1]) / 4;
      score -= between(row, y, gaps[2]) / 4;
      score -= between(row, y, gaps[3]) / 4;
      if (score > best[y]!) {
        best[y] = score;
        sizes[y] = d;
      }
    }
  }
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

/** A step down in whole rows, and the part of a row that is left. */
interface Step {
  readonly low: number;
  readonly part: number;
}

function stepOf(distance: number): Step {
  const low = Math.floor(distance);
  return { low, part: distance - low };
}

function between(row: Float32Array, y: number, { low, part }: Step): number {
  const value = row[y + low]!;
  return value + (row[y + low + 1]! - value) * part;
}

function sixthAt(row: Float32Array, y: number, d: number): number {
  let teeth = 0;
  for (let k = -2; k <= 2; k++) teeth += at(row, y + k * d);
  return Math.max(at(row, y - 3 * d), at(row, y + 3 * d)) / (teeth / 5 || 1);
}
