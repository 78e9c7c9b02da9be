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
    for (let y = margin; y < row.length - margin; y++) {
      const score = scoreAt(row, y, d);
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

/** Mean of the teeth, the weakest counted twice, less the mean of the gaps. */
function scoreAt(row: Float32Array, y: number, d: number): number {
  let teeth = 0;
  let weakest = 255;
  for (let k = -2; k <= 2; k++) {
    const value = at(row, y + k * d);
    teeth += value;
    if (value < weakest) weakest = value;
  }
  let gaps = 0;
  for (let k = -1.5; k <= 1.5; k++) gaps += at(row, y + k * d);
  return (teeth + weakest) / 6 - gaps / 4;
}

function sixthAt(row: Float32Array, y: number, d: number): number {
  let teeth = 0;
  for (let k = -2; k <= 2; k++) teeth += at(row, y + k * d);
  return Math.max(at(row, y - 3 * d), at(row, y + 3 * d)) / (teeth / 5 || 1);
}
