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

function soft(row: Float32Array): Float32Array {
  return row.map((value, y) => (2 * value + (row[y - 1] ?? 0) + (row[y + 1] ?? 0)) / 4);
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
  for (const size of SIZES) {
    const d = size * expected;
    const margin = Math.ceil(3 * d) + 1;
    // How far between two rows a tooth or a gap lies is the same at every row.
    const teeth = [-2, -1, 0, 1, 2].map((k) => stepOf(k * d));
    const gaps = [-1.5, -0.5, 0.5, 1.5].map((k) => stepOf(k * d));
    for (let y = margin; y < row.length - margin; y++) {
      if (row[y]! < FAINTEST) continue;
      let dark = 0;
      let weakest = 255;
      for (const { low, part } of teeth) {
        const value = row[y + low]! + (row[y + low + 1]! - row[y + low]!) * part;
        dark += value;
        if (value < weakest) weakest = value;
      }
      // Mean of the teeth, the weakest counted twice, less the mean of the gaps.
      let score = (dark + weakest) / 6;
      if (score <= best[y]!) continue;
      for (const { low, part } of gaps)
        score -= (row[y + low]! + (row[y + low + 1]! - row[y + low]!) * part) / 4;
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
function stepOf(distance: number): { readonly low: number; readonly part: number } {
  const low = Math.floor(distance);
  return { low, part: distance - low };
}

function sixthAt(row: Float32Array, y: number, d: number): number {
  let teeth = 0;
  for (let k = -2; k <= 2; k++) teeth += at(row, y + k * d);
  return Math.max(at(row, y - 3 * d), at(row, y + 3 * d)) / (teeth / 5 || 1);
}
