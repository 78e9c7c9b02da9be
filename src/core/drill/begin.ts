import { farthest } from '../chart/reach.ts';
import type { Line } from './cuts.ts';
import { joinedTo } from './joined.ts';

/** Staff heights over a line's reach that are looked at for what its upper end cuts through. */
const BEGIN_LOOK = 1;

type Reach = Pick<Line, 'top' | 'bottom' | 'y0' | 'y1'>;

/** Whether there may be more of the line beyond its reach. */
export const mayBeginAbove = ({ y0 }: Reach): boolean => y0 > 0;

/** Whether its reach ends half the way to the line over it: what stands across may be of either. */
export const isHalfway = ({ top, bottom, y0 }: Reach): boolean => top - y0 <= farthest(bottom - top) - 1e-6;

/** Of the room under a neighbour's staff so much is not looked at, in staff heights. */
const KEPT = 0.1;

/** How far up a line is looked at, as a fraction of the page's height: not into the staff over it. */
export const beginLook = (line: Reach): number => {
  const { top, bottom, y0 } = line;
  const staff = bottom - top;
  return Math.max(0, isHalfway(line) ? 2 * y0 - top + KEPT * staff : y0 - BEGIN_LOOK * staff);
};

/** A line as it is on the page upside down: where it ends is looked for as where it begins. */
export const flipped = ({ top, bottom, y0, y1 }: Reach): Reach => ({
  top: 1 - bottom,
  bottom: 1 - top,
  y0: 1 - y1,
  y1: 1 - y0,
});

/**
 * How far above its reach a line begins where something stands across its end: a tempo, a chord over high notes, or the
 * high notes themselves.
 * @param rows whether there is ink, from the farthest row above down to the staff
 * @param end the first row within the reach
 * @param isShared what is higher above the end than below it is the neighbour's
 * @returns rows above the reach; 0 where nothing stands across, or it goes on farther than was looked
 */
export function rowsAbove(rows: readonly boolean[], end: number, isShared = false): number {
  if (rows[end] !== true || rows[end - 1] !== true) return 0;
  // One white row alone may part a letter from its dot.
  const white = rows.slice(0, end).findLastIndex((isInk, y) => !isInk && rows[y - 1] === false);
  if (white < 0) return 0;
  const below = rows.indexOf(false, end);
  if (isShared && (below < 0 ? rows.length : below) - end < end - 1 - white) return 0;
  // Both white rows are kept: at an edge the dot of an i would pass for what a cut has left of something else.
  return end + 1 - white;
}

/**
 * How far below its reach a line ends where something stands across: a segno, a verse, low notes. It is the line's own
 * where the larger part is in the reach.
 * @param isInk of a px, by its number row by row from the staff's bottom line down
 * @param height of the picture, px: what goes on to its end is the next line's
 * @param end the first row beyond the reach
 * @returns rows below the reach, with two white ones; 0 where nothing stands across
 */
export function rowsBelow(
  isInk: (at: number) => boolean,
  width: number,
  height: number,
  end: number,
): number {
  const seen = new Set<number>();
  let most = 0;
  for (let x = 0; x < width; x++) {
    const at = (end - 1) * width + x;
    if (seen.has(at) || !isInk(at)) continue;
    const { y0, y1 } = joinedTo(at, isInk, width, { from: 0, to: width }, { from: 0, to: height }, seen);
    if (y1 > end && y1 < height && (y0 === 0 || end - y0 >= y1 - end)) most = Math.max(most, y1 - end + 2);
  }
  return most;
}

/** Of a row, the first and the last column of the ink in its middle; none has an empty range. Null: all is white. */
export type InkRow = readonly [first: number, last: number] | null;

/**
 * Reads a row: from the middle to both sides, as far as white is no wider than `gap`. What stands beside it, a composer's
 * name, is left out.
 */
export function inkRow(row: readonly boolean[], middle: number, gap: number): InkRow {
  if (!row.includes(true)) return null;
  let [first, last] = [Infinity, -Infinity];
  const centre = Math.round(middle);
  for (let x = centre, white = 0; x >= 0 && white <= gap; x--) {
    white = row[x] === true ? 0 : white + 1;
    if (white === 0) [first, last] = [x, Math.max(last, x)];
  }
  for (let x = centre, white = 0; x < row.length && white <= gap; x++) {
    white = row[x] === true ? 0 : white + 1;
    if (white === 0) [first, last] = [Math.min(first, x), Math.max(last, x)];
  }
  return [first, last];
}

/** A title is at least so high and so long, in staff heights; a chord symbol in the middle is shorter, a tempo lower. */
const HIGH = 0.55;
const LONG = 3;
/** How far off the page's middle its own is, and how much of the line it takes at most: shares of the line. */
const OFF = 0.02;
const WIDE = 0.8;

/**
 * Where a line begins under the title of its tune: that is nothing to play, and a bar would show a part of it.
 * @param rows from the farthest one above down to the staff
 * @param middle of the page, in columns as they are counted in the rows
 * @param line columns that the line is long
 * @param staff its height in rows
 * @returns the first row under the title; 0 where there is none
 */
export function rowUnderTitle(rows: readonly InkRow[], middle: number, line: number, staff: number): number {
  for (let end = rows.length; end > 0; end--) {
    if (rows[end - 1] === null || (end < rows.length && rows[end] !== null)) continue;
    const start = rows.slice(0, end).lastIndexOf(null) + 1;
    const ink = rows.slice(start, end).filter((row) => row !== null);
    const [left, right] = [Math.min(...ink.map(([x]) => x)), Math.max(...ink.map(([, x]) => x))];
    const isCentred = Math.abs((left + right) / 2 - middle) <= OFF * line;
    // What goes on down to the staff is its own.
    const isApart = end < rows.length;
    const isLarge = end - start >= HIGH * staff && right - left >= LONG * staff;
    if (isApart && isCentred && isLarge && right - left <= WIDE * line) return end;
  }
  return 0;
}
