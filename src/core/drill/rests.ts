/** A multi-bar rest may be as wide as its line, and says no more than its count: it is shown shorter. */
import type { Plan, RouteBar } from '../chart/types.ts';
import type { Cut } from './cuts.ts';
import type { Size } from './legible.ts';

/** From here to there across the page, fractions of its width. */
export type Stretch = readonly [from: number, to: number];

/** Kept behind the left bar line, or clef and key, and before the right one, staff heights; the rest's stroke may begin further in. */
const ENDS = 1;
/** Kept to each side of its middle, staff heights: its count, or as many rests as stand there for up to ten bars. */
const MIDDLE = 1.75;

/** A multi-bar rest has as many places in the route as it has bars, one after the other and all in one box. */
export function isMultiRest({ bars }: Plan, bar: RouteBar): boolean {
  const at = bars.indexOf(bar);
  return bar.silent && [bars[at - 1], bars[at + 1]].some((next) => next?.bar === bar.bar && next.silent);
}

/** What can be left out of a multi-bar rest: two stretches of plain staff with the rest's stroke. None of other bars. */
export function plainOf({ isRest, placed, line, staff }: Cut, pages: readonly Size[]): readonly Stretch[] {
  if (!isRest) return [];
  const [x0, , x1] = placed.box;
  const high = staff / pages[line.page]!.width;
  const start = Math.max(x0, Math.min(line.clefEnd, x1));
  const middle = (start + x1) / 2;
  const plain: Stretch[] = [
    [start + ENDS * high, middle - MIDDLE * high],
    [middle + MIDDLE * high, x1 - ENDS * high],
  ];
  return plain.filter(([from, to]) => from < to);
}

export const lengthOf = (stretches: readonly Stretch[]): number =>
  stretches.reduce((sum, [from, to]) => sum + to - from, 0);

/** What is left of a stretch, piece by piece. */
export function without([start, end]: Stretch, out: readonly Stretch[]): readonly Stretch[] {
  const ends = [...out.map(([from]) => from), end];
  return [start, ...out.map(([, to]) => to)].map((from, i): Stretch => [from, ends[i]!]);
}
