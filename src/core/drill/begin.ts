import { farthest } from '../chart/reach.ts';
import type { Line } from './cuts.ts';

/** Staff heights over a line's reach that are looked at for what its upper end cuts through. */
export const BEGIN_LOOK = 1;

/** Whether there may be more of the line beyond its reach: where it ends half the way to a neighbour there is not. */
export const mayBeginAbove = ({ top, bottom, y0 }: Line): boolean =>
  y0 > 0 && top - y0 > farthest(bottom - top) - 1e-6;

/**
 * How far above its reach a line begins where something stands across its end: a tempo, or a chord over high notes.
 * @param rows whether there is ink, from the farthest row above to the first row within the reach
 * @returns rows above the reach; 0 where nothing stands across, or it goes on farther than was looked
 */
export function rowsAbove(rows: readonly boolean[]): number {
  if (rows.at(-1) !== true || rows.at(-2) !== true) return 0;
  // One white row alone may part a letter from its dot.
  const white = rows.findLastIndex((isInk, y) => !isInk && rows[y - 1] === false);
  // Both white rows are kept: at an edge the dot of an i would pass for what a cut has left of something else.
  return white < 0 ? 0 : rows.length - white;
}
