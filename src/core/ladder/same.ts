import { area, isSamePlace, SAME_PLACE, sharedOnPage } from '../chart/place.ts';
import type { Plan, PlacedBox, RouteBar, Span } from '../chart/types.ts';

type Route = Pick<Plan, 'bars'>;

/**
 * Whether a span passed under an older plan counts for a span of another plan: bar by bar and in order
 * the same bars, or their twins under either plan, or bars boxed at the same place. Where a bar has been
 * split since, its parts count as passed with it; a bar joined from parts does not.
 */
export function sameMusic(older: Route, passed: Span, newer: Route, wanted: Span): boolean {
  const was = placesOf(older, passed);
  const is = placesOf(newer, wanted);
  if (was.length === 0 || is.length < was.length) return false;
  // Places of the passed span that the wanted bars so far may end on: -1 before the first.
  let ends = new Set([-1]);
  for (const place of is) {
    const next = new Set<number>();
    for (const end of ends) {
      if (end + 1 < was.length && matchOf(older, was[end + 1]!, newer, place) !== null) next.add(end + 1);
      if (end >= 0 && matchOf(older, was[end]!, newer, place) === 'part') next.add(end);
    }
    if (next.size === 0) return false;
    ends = next;
  }
  return ends.has(was.length - 1);
}

function placesOf(route: Route, span: Span): number[] {
  const places: number[] = [];
  if (route.bars.length === 0) return places;
  for (let place = span.from; place <= span.to; place++) places.push(place % route.bars.length);
  return places;
}

function matchOf(older: Route, was: number, newer: Route, is: number): 'same' | 'part' | null {
  const before = twinsAt(older, was);
  const now = twinsAt(newer, is);
  const ids = new Set(before.map((bar) => bar.bar));
  if (now.some((bar) => ids.has(bar.bar))) return 'same';
  if (before.some((a) => now.some((b) => arePlacedAlike(a.boxes, b.boxes)))) return 'same';
  if (before.some((a) => now.some((b) => isPart(b.boxes, a.boxes)))) return 'part';
  return null;
}

const classes = new WeakMap<Route['bars'], RouteBar[][]>();

/** The bars that hold the music of a place; built once for a route. */
function twinsAt(route: Route, place: number): readonly RouteBar[] {
  let byTwin = classes.get(route.bars);
  if (byTwin === undefined) {
    byTwin = route.bars.map(() => []);
    for (const bar of route.bars) {
      const twins = byTwin[bar.twin]!;
      if (!twins.some((other) => other.bar === bar.bar)) twins.push(bar);
    }
    classes.set(route.bars, byTwin);
  }
  return byTwin[route.bars[place]!.twin]!;
}

const arePlacedAlike = (a: readonly PlacedBox[], b: readonly PlacedBox[]): boolean =>
  a.length === b.length && a.every((box, i) => isSamePlace(box, b[i]!));

/** Whether nearly all of `part` lies in boxes of `whole`. */
function isPart(part: readonly PlacedBox[], whole: readonly PlacedBox[]): boolean {
  return part.every((box) => whole.some((other) => sharedOnPage(box, other) >= SAME_PLACE * area(box.box)));
}
