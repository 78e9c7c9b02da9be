/** Lays two pictures on each other column by column and says how unlike they are then. */
import { cropped, FINER, type Grey } from './grey.ts';

/** Differences are looked at in windows of so many columns and rows: a letter's stroke, a dot; a tie. */
const WINDOWS = [
  [5, 5],
  [13, 3],
] as const;
/** Columns may be left out where they are like the one before; what that costs, in pixels of full ink. */
const STEP = 0.15;
/** Places in bars of other widths drift apart no further than this share of the wider, and in pixels. */
const DRIFT = 0.25;
const LOOSE = 12;
/** A bar of the same music may be drawn this much wider. */
const WIDEST = 2.2;

/** A picture made ready: the least and the most of every pixel and its neighbours. */
export interface Ready {
  readonly grey: Grey;
  readonly least: Uint8Array;
  readonly most: Uint8Array;
}

export type Path = readonly (readonly [a: number, b: number])[];

/** Columns of the two laid on each other, both ascending; null: they do not fit. */
export function aligned(a: Grey, b: Grey): Path | null {
  const [n, m] = [a.width, b.width];
  if (Math.max(n, m) > WIDEST * Math.min(n, m)) return null;
  const band = Math.max(LOOSE, DRIFT * Math.max(n, m));
  const [skipA, skipB] = [skips(a), skips(b)];
  const cost = new Float32Array(n * m).fill(Infinity);
  const from = new Uint8Array(n * m);
  for (let i = 0; i < n; i++) {
    const middle = (i * (m - 1)) / (n - 1);
    const last = Math.min(m - 1, Math.ceil(middle + band));
    for (let j = Math.max(0, Math.floor(middle - band)); j <= last; j++) {
      const at = i * m + j;
      const both = i > 0 && j > 0 ? cost[at - m - 1]! : i + j === 0 ? 0 : Infinity;
      const one = i > 0 ? cost[at - m]! + skipA[i]! : Infinity;
      const other = j > 0 ? cost[at - 1]! + skipB[j]! : Infinity;
      const best = Math.min(both, one, other);
      cost[at] = best + differ(a, i, b, j);
      from[at] = best === both ? 0 : best === one ? 1 : 2;
    }
  }
  const path: [number, number][] = [];
  for (let i = n - 1, j = m - 1; i >= 0 && j >= 0;) {
    path.push([i, j]);
    const step = from[i * m + j];
    if (step !== 2) i--;
    if (step !== 1) j--;
  }
  return path.reverse();
}

const skips = (of: Grey) =>
  Float32Array.from({ length: of.width }, (_, x) => STEP + (x === 0 ? 0 : differ(of, x - 1, of, x)));

/** Difference of two columns, in pixels of full ink. */
function differ(a: Grey, i: number, b: Grey, j: number): number {
  const rows = a.height;
  let sum = 0;
  for (let p = i * rows, q = j * rows, end = p + rows; p < end; p++, q++) {
    const off = a.data[p]! - b.data[q]!;
    sum += off < 0 ? -off : off;
  }
  return sum / 15;
}

/** The path of pictures at half their size for those of full size. */
export const refined = (path: Path): Path =>
  path.flatMap(([i, j]) => Array.from({ length: FINER }, (_, k) => [FINER * i + k, FINER * j + k] as const));

/** Least and most of a pixel and its eight neighbours; what is beyond the edges is paper. */
export function readied(grey: Grey): Ready {
  const { width, height, data } = grey;
  const least = new Uint8Array(data.length);
  const most = new Uint8Array(data.length);
  const [low, high] = [new Uint8Array(data.length), new Uint8Array(data.length)];
  for (let x = 0, i = 0; x < width; x++)
    for (let y = 0, before = 0; y < height; y++, i++) {
      const value = data[i]!;
      const after = y < height - 1 ? data[i + 1]! : 0;
      low[i] = before < value ? (before < after ? before : after) : value < after ? value : after;
      high[i] = before > value ? (before > after ? before : after) : value > after ? value : after;
      before = value;
    }
  for (let i = 0; i < data.length; i++) {
    const [a, b, c] = [low[i - height] ?? 0, low[i]!, low[i + height] ?? 0];
    least[i] = a < b ? (a < c ? a : c) : b < c ? b : c;
    const [d, e, f] = [high[i - height] ?? 0, high[i]!, high[i + height] ?? 0];
    most[i] = d > e ? (d > f ? d : f) : e > f ? e : f;
  }
  return { grey, least, most };
}

/** A part of a picture that is made ready; paper where it goes beyond. */
export function part({ grey, least, most }: Ready, x0: number, x1: number, y0: number, y1: number): Ready {
  const cut = (data: Uint8Array) => cropped({ ...grey, data }, x0, x1, y0, y1);
  return { grey: cut(grey.data), least: cut(least).data, most: cut(most).data };
}

/**
 * The largest difference of two pictures laid on each other, a mean over nearly half a space, 0–15. What is moved by
 * a pixel is no difference.
 * @param down the first row of `b` that lies on the first of `a`
 * @param enough from here on it does not matter how large it is
 */
export function worstOf(a: Ready, b: Ready, path: Path, down = 0, enough = Infinity): number {
  const [rows, other] = [a.grey.height, b.grey.height];
  const diff = new Uint8Array(path.length * rows);
  for (let k = 0; k < path.length; k++) {
    const [i, j] = path[k]!;
    for (let y = 0, p = i * rows, q = j * other + down, at = k * rows; y < rows; y++, p++, q++, at++) {
      const [one, two] = [a.grey.data[p]!, b.grey.data[q]!];
      if (one === two) continue;
      const off =
        one > two
          ? Math.max(one - b.most[q]!, a.least[p]! - two)
          : Math.max(b.least[q]! - one, two - a.most[p]!);
      if (off > 0) diff[at] = off;
    }
  }
  let worst = 0;
  for (const [wide, high] of WINDOWS) {
    worst = Math.max(worst, largestMean(diff, rows, wide, high));
    if (worst >= enough) break;
  }
  return worst;
}

/** The largest mean of a window of so many columns and rows. */
function largestMean(diff: Uint8Array, rows: number, wide: number, high: number): number {
  const columns = diff.length / rows;
  const sums = new Uint16Array(diff.length);
  for (let k = 0; k < columns; k++)
    for (let y = 0, sum = 0; y < rows; y++) {
      sum += diff[k * rows + y]! - (y >= high ? diff[k * rows + y - high]! : 0);
      sums[k * rows + y] = sum;
    }
  let worst = 0;
  for (let y = high - 1; y < rows; y++)
    for (let k = 0, sum = 0; k < columns; k++) {
      sum += sums[k * rows + y]! - (k >= wide ? sums[(k - wide) * rows + y]! : 0);
      if (sum > worst) worst = sum;
    }
  return worst / (wide * high);
}
