import { CLEF_LOOK } from './clef.ts';
import type { Cut, Line } from './cuts.ts';
import type { Size } from './legible.ts';

/** Columns without a staff that a scan may have left in it. */
const GAP = 2;
/** A staff that goes on for less, in staff heights, holds no clef: none is narrower than this, a brace is. */
const LEAST = 0.5;

/** Strokes of a repeat reach so far before the bar that they open, in staff heights. */
const STROKES = 0.2;

/** A line whose staff begins at `start`, before the clef that stands before its first bar. */
export function startingAt<L extends Pick<Line, 'x0' | 'clefMost'>>(
  line: L,
  start: number,
  staffWidth: number,
): L {
  return { ...line, x0: start, clefMost: line.x0 - STROKES * staffWidth };
}

/**
 * From where a line is looked at for a staff that begins before its first bar, as it does where a repeat stands behind
 * its clef. Fraction of the page; null: a clef has no room there.
 */
export function startLook({ line, staff }: Cut, pages: readonly Size[]): number | null {
  const one = staff / pages[line.page]!.width;
  return line.x0 > LEAST * one ? Math.max(0, line.x0 - CLEF_LOOK * one) : null;
}

/**
 * How far a staff goes on to the left of a line's first bar.
 * @param columns whether each shows the staff, the last one at the bar
 * @param staff height of the staff in columns
 * @returns columns; 0 where it does not go on far enough for a clef
 */
export function staffBefore(columns: readonly boolean[], staff: number): number {
  let start = columns.length;
  for (let x = columns.length - 1; x >= 0 && start - x <= GAP + 1; x--) if (columns[x]) start = x;
  const before = columns.length - start;
  return before >= LEAST * staff ? before : 0;
}
