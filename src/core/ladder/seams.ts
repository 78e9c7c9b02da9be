import type { Plan, Span } from '../chart/types.ts';

/** Bars on either side of a seam. */
const AROUND = 2;

/**
 * The seams of a route in order: where a section begins, where a repeat or an ending leads away from the
 * next written bar, and from the last bar into the first. Two bars before and two after; the route runs
 * on past its end, so `to` may reach beyond it.
 */
export function seamsOf(plan: Pick<Plan, 'bars'>, sections: readonly Span[]): Span[] {
  const { bars } = plan;
  const starts = new Set(sections.map((section) => section.from));
  const seams: Span[] = [];
  for (let place = 1; place <= bars.length; place++) {
    const leadsAway = bars[place]?.number !== bars[place - 1]!.number + 1;
    if (place === bars.length || starts.has(place) || leadsAway) seams.push(around(place, bars.length));
  }
  return seams;
}

/** `place` is the first bar after the seam. A route shorter than two bars gives what it has. */
function around(place: number, length: number): Span {
  return { from: Math.max(0, place - AROUND), to: place + Math.min(AROUND, length) - 1 };
}
