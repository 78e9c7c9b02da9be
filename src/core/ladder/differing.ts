import type { Plan, Span } from '../chart/types.ts';

/**
 * The places at which a section differs from the earlier section that is most like it, in order; null
 * when it is chained like any other: nothing earlier has the same music in at least half its bars (common
 * practice, no source: with fewer it is a section of its own), or the player wants every step.
 */
export function differingPlaces(plan: Plan, section: Span, before: readonly Span[]): number[] | null {
  if (!plan.numbers.differing || !plan.numbers.twins) return null;
  let fewest: number[] | null = null;
  for (const other of before) {
    const found = differences(plan, section, other);
    if (fewest === null || found.length < fewest.length) fewest = found;
  }
  const length = section.to - section.from + 1;
  return fewest !== null && fewest.length * 2 <= length ? fewest : null;
}

/** Places of `section` whose bar is no twin of the bar at the same distance from the start of `other`. */
function differences(plan: Plan, section: Span, other: Span): number[] {
  const found: number[] = [];
  for (let place = section.from; place <= section.to; place++) {
    const there = other.from + place - section.from;
    const isSame = there <= other.to && plan.bars[there]!.twin === plan.bars[place]!.twin;
    if (!isSame) found.push(place);
  }
  return found;
}
