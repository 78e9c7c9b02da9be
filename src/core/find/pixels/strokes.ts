import type { BarLineKind } from '../types.ts';
import type { Straight } from './straight.ts';
import { columnDarkness, spaceRows } from './uprights.ts';

/** A bar line's strokes are looked for so far from its middle, in spaces. */
const NEAR = 1.2;
/** A column belongs to them where it is at least this share as dark as the darkest. */
const SHARE = 0.4;
/** The two strokes of a final bar line take more than so many spaces, also where they are set close. */
const NARROW = 0.54;

/**
 * The kind of a bar line once the width of its strokes is seen: a final one that is as narrow as one thin stroke is a
 * single one, as the net takes some that stand at the end of a staff for final (Gould, "Behind Bars", on bar lines: a
 * final one is a thin and a thick stroke).
 */
export function withStrokes(straight: Straight, x: number, kind: BarLineKind): BarLineKind {
  return kind === 'final' && widthAt(straight, x) < NARROW * straight.unit ? 'single' : kind;
}

/** From the first to the last dark column around a place, in pixels. */
function widthAt(straight: Straight, x: number): number {
  const { unit, tops, width } = straight;
  const dark = columnDarkness(
    straight,
    tops.flatMap((top) => spaceRows(top, unit)),
  );
  const from = Math.max(0, Math.round(x - NEAR * unit));
  const near = dark.subarray(from, Math.min(width, Math.round(x + NEAR * unit) + 1));
  const least = SHARE * Math.max(...near);
  const first = near.findIndex((value) => value >= least);
  return near.findLastIndex((value) => value >= least) + 1 - first;
}
