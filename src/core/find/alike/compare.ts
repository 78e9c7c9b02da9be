/** Whether two pictures of bars show the same music. */
import type { BarPicture, HeadPicture, StaffPicture } from '../types.ts';
import { coarse, cropped, FINE, FINER, unpack, type Grey } from './grey.ts';

/**
 * The largest difference that the same music may show, a mean over half a space, 0–15: measured on scans, see
 * tests/corpus/scans/README.md.
 */
export const STAVES = 2.8;
export const WORDS = 1.1;
export const HEADS = 4;
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
/** Ink of the same music, row by row: it differs by no more than this share, or so many pixels. */
const MORE_INK = 0.35;
const SOME_INK = 16;
/** Rows that are told apart above and below the top line. */
const HIGHEST = 84;
/** Words may be moved against their notes, and against each other in height; in pixels. */
const ASIDE = 8;
const LEVEL = 2;
/** A word's foot this close above the top line, in pixels, may say a pitch. */
const NEAR = 6;

/** A picture made ready: the least and the most of every pixel and its neighbours. */
interface Ready {
  readonly grey: Grey;
  readonly least: Uint8Array;
  readonly most: Uint8Array;
}

interface Opened {
  readonly above: number;
  readonly grey: Grey;
  /** At half its size, for laying on. */
  readonly coarse: Grey;
  /** Ink of each row from `HIGHEST` above the top line down, in coarse pixels; rows of staff lines are left out. */
  readonly rows: Float32Array;
}

/** A bar ready to be compared. */
export interface OpenedBar {
  readonly staves: readonly Opened[];
  readonly words: readonly { readonly x: number; readonly foot: number; readonly grey: Grey }[];
}

export const opened = ({ staves, words }: BarPicture): OpenedBar => ({
  staves: staves.map(openedStaff),
  words: words.map((word) => ({ x: word.x, foot: word.foot, grey: unpack(word) })),
});

function openedStaff(staff: StaffPicture): Opened {
  const grey = unpack(staff);
  const half = coarse(grey);
  const { width, height, data } = half;
  const rows = new Float32Array(2 * HIGHEST);
  for (let y = 0; y < height; y++) {
    const place = y - staff.above / FINER;
    const off = Math.abs(place - FINE * Math.round(place / FINE));
    if (place > -2 && place < 4 * FINE + 2 && off <= 1) continue;
    const at = Math.max(0, Math.min(rows.length - 1, place + HIGHEST));
    for (let x = 0; x < width; x++) rows[at]! += data[x * height + y]! / 15;
  }
  return { above: staff.above, grey, coarse: half, rows };
}

/** How unlike two bars are: of their staves and of their words, 0–15; 15 where they cannot be laid on each other. */
export function unlikeness(a: OpenedBar, b: OpenedBar): { readonly staves: number; readonly words: number } {
  const none = { staves: 15, words: 15 };
  if (a.staves.length !== b.staves.length || a.words.length !== b.words.length) return none;
  if (!a.staves.every((staff, k) => isInkAlike(staff, b.staves[k]!))) return none;
  const paths: Path[] = [];
  let worst = 0;
  for (const [k, one] of a.staves.entries()) {
    const both = laid(one, b.staves[k]!);
    if (both === null) return none;
    paths.push(both.path);
    worst = Math.max(worst, both.worst);
  }
  return { staves: worst, words: wordsApart(a, b, paths[0]!) };
}

export function isAlike(a: OpenedBar, b: OpenedBar): boolean {
  const { staves, words } = unlikeness(a, b);
  return staves <= STAVES && words <= WORDS;
}

/** How unlike the beginnings of two lines are, 0–15. */
export function headApart(one: HeadPicture, other: HeadPicture): number {
  const [a, b] = [one.staves.map(openedStaff), other.staves.map(openedStaff)];
  if (a.length !== b.length) return 15;
  return Math.max(...a.map((staff, k) => laid(staff, b[k]!)?.worst ?? 15));
}

/** Whether two lines begin with the same clefs and the same key. */
export const isSameHead = (one: HeadPicture, other: HeadPicture) => headApart(one, other) <= HEADS;

/** Both with the same rows around the top line. */
function levelled(a: Opened, b: Opened, by: number): [Grey, Grey] {
  const above = Math.max(a.above, b.above) / by + 2;
  const below = Math.max(a.grey.height - a.above, b.grey.height - b.above) / by + 2;
  const rows = (one: Opened) => {
    const grey = by === 1 ? one.grey : one.coarse;
    return cropped(grey, 0, grey.width, one.above / by - above, one.above / by + below);
  };
  return [rows(a), rows(b)];
}

/** Where the two lie on each other, and how unlike they are then, 0–15; null: they do not fit. */
function laid(a: Opened, b: Opened): { readonly path: Path; readonly worst: number } | null {
  const path = aligned(...levelled(a, b, FINER));
  if (path === null) return null;
  const [left, right] = levelled(a, b, 1);
  const fine = path.flatMap(([i, j]) => [[2 * i, 2 * j] as const, [2 * i + 1, 2 * j + 1] as const]);
  return { path, worst: worstOf(readied(left), readied(right), fine) };
}

type Path = readonly (readonly [a: number, b: number])[];

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

/** A first look: about as much ink in every row, however far apart it stands. */
export function isInkAlike({ rows: a }: Opened, { rows: b }: Opened): boolean {
  let [off, one, other] = [0, 0, 0];
  // Rows are taken together in threes: a staff may lie half a pixel higher here than there.
  for (let y = 1; y < a.length - 1; y++) {
    off += Math.abs(a[y - 1]! + a[y]! + a[y + 1]! - b[y - 1]! - b[y]! - b[y + 1]!) / 3;
    one += a[y]!;
    other += b[y]!;
  }
  return off <= Math.max(SOME_INK, MORE_INK * Math.max(one, other));
}

/** Least and most of a pixel and its eight neighbours. */
export function readied(grey: Grey): Ready {
  const spread = (pick: (a: number, b: number) => number) => {
    const { width, height, data } = grey;
    const down = data.map((value, i) => {
      const y = i % height;
      return pick(pick(value, y > 0 ? data[i - 1]! : value), y < height - 1 ? data[i + 1]! : value);
    });
    return down.map((value, i) => {
      const x = (i / height) | 0;
      return pick(pick(value, x > 0 ? down[i - height]! : value), x < width - 1 ? down[i + height]! : value);
    });
  };
  return { grey, least: spread(Math.min), most: spread(Math.max) };
}

/**
 * The largest difference of two pictures laid on each other, a mean over nearly half a space, 0–15. What is moved by
 * a pixel is no difference.
 */
export function worstOf(a: Ready, b: Ready, path: Path): number {
  const rows = a.grey.height;
  const diff = new Float32Array(path.length * rows);
  path.forEach(([i, j], k) => {
    for (let y = 0, p = i * rows, q = j * rows, at = k * rows; y < rows; y++, p++, q++, at++) {
      const [one, other] = [a.grey.data[p]!, b.grey.data[q]!];
      if (one === other) continue;
      const off = Math.max(one - b.most[q]!, b.least[q]! - one, other - a.most[p]!, a.least[p]! - other);
      if (off > 0) diff[at] = off;
    }
  });
  return Math.max(...WINDOWS.map(([wide, high]) => largestMean(diff, rows, wide, high)));
}

/** The largest mean of a window of so many columns and rows. */
function largestMean(diff: Float32Array, rows: number, wide: number, high: number): number {
  const columns = diff.length / rows;
  const sums = new Float32Array(diff.length);
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

/** The most unlike of the words, 0–15; 15 where they stand elsewhere. */
function wordsApart(a: OpenedBar, b: OpenedBar, path: Path): number {
  let worst = 0;
  const lift = a.words.map((word, i) => b.words[i]!.foot - word.foot);
  const isLevel = Math.max(...lift) - Math.min(...lift) <= LEVEL;
  const isNear = [...a.words, ...b.words].some(({ foot }) => foot > -NEAR);
  if (lift.length > 0 && (!isLevel || (isNear && Math.max(...lift.map(Math.abs)) > LEVEL))) return 15;
  for (const [i, word] of a.words.entries()) {
    const other = b.words[i]!;
    const column = Math.max(0, Math.min(a.staves[0]!.coarse.width - 1, word.x));
    const on = path.find(([x]) => x >= column)![1] + word.x - column;
    if (Math.abs(on - other.x) > ASIDE) return 15;
    worst = Math.max(worst, wordApart(word.grey, other.grey));
  }
  return worst;
}

/** How unlike two words are where they lie best on each other, 0–15. */
export function wordApart(a: Grey, b: Grey): number {
  const MOST = 3;
  if (Math.abs(a.width - b.width) > 2 * MOST || Math.abs(a.height - b.height) > 2 * MOST) return 15;
  const [width, height] = [Math.max(a.width, b.width) + 2 * MOST, Math.max(a.height, b.height) + 2 * MOST];
  const still = cropped(a, -MOST, width - MOST, -MOST, height - MOST);
  const ready = readied(still);
  const path = Array.from({ length: width }, (_, x) => [x, x] as const);
  let best = 15;
  for (let dx = 0; dx <= 2 * MOST; dx++)
    for (let dy = 0; dy <= 2 * MOST; dy++)
      best = Math.min(best, worstOf(ready, readied(cropped(b, -dx, width - dx, -dy, height - dy)), path));
  return best;
}
