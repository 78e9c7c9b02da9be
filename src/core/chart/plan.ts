import type { Sounding } from './play.ts';
import { contradictionOf } from './repeats.ts';
import { routeFrom, startsSection } from './route.ts';
import { classesOf, twinPlaces } from './twins.ts';
import type { BarId, Marks, Numbers, Pickup, Plan, RouteBar, Section } from './types.ts';
import { writtenBars, type WrittenBar } from './written.ts';

/**
 * The numbers a chart starts with (common practice, no source). What the player chooses (pairs, seams,
 * three in a row for joins, doubled steps) is off; what only saves needless work is on.
 */
export const defaultNumbers: Numbers = {
  streak: 10,
  joinStreak: 10,
  start: 60,
  step: 10,
  goal: 120,
  doubleStepAbove: null,
  sectionLength: null,
  joining: 'one-by-one',
  seams: false,
  differing: true,
  twins: true,
  silence: true,
  skipped: [],
  repeatedRungs: [],
};

/**
 * The written bars' ids in the order they sound, pickups left out, a multi-bar rest once. Never throws: where
 * signs contradict each other, the nearest route that can be played; `routeFrom` says what does not fit.
 */
export function routeOf(marks: Marks): BarId[] {
  return routeFrom(marks).places.map(({ bar }) => bar.id);
}

/** What a coda without a name of its own is called: the sign's name, the same in every language. */
const CODA = 'Coda';

/**
 * Sections along the route. One begins at each marked bar and at the coda, wherever a jump leads, and where
 * a repeat leads into another section; what comes before the first mark, or all of a chart without marks, has
 * an empty name.
 */
function sectionsOf(route: readonly Sounding[], startAt: ReadonlyMap<BarId, WrittenBar | null>): Section[] {
  const sections: Section[] = [];
  let current: WrittenBar | null | undefined;
  for (const [place, { bar, leap }] of route.entries()) {
    const start = startAt.get(bar.id) ?? null;
    const last = sections.at(-1);
    if (last !== undefined && start === current && bar !== start && !leap)
      sections[sections.length - 1] = { ...last, to: place };
    else {
      const name = start?.section ?? (start === null ? '' : CODA);
      sections.push({ from: place, to: place, name });
    }
    current = start;
  }
  return sections;
}

/** For each written bar the bar that its section starts with, if any. */
function sectionStarts(written: readonly WrittenBar[]): Map<BarId, WrittenBar | null> {
  let start: WrittenBar | null = null;
  return new Map(
    written.map((bar) => {
      if (startsSection(bar)) start = bar;
      return [bar.id, start];
    }),
  );
}

function pickupOf(written: readonly WrittenBar[]): Pickup | null {
  const first = written[0];
  if (first === undefined || first.pickup === 0) return null;
  return { bar: first.id, boxes: first.boxes, beats: first.pickup };
}

/** A multi-bar rest is one written bar and so many places, so that the click, the count-in and joins count bars. */
function withRests(places: readonly Sounding[]): Sounding[] {
  return places.flatMap((place) => [
    place,
    ...Array.from({ length: place.bar.bars - 1 }, (_, i) => ({
      bar: { ...place.bar, number: place.bar.number + i + 1, leadIn: 0 },
      leap: false,
    })),
  ]);
}

/**
 * The plan of a chart: its route with twins and sections, and the numbers. A chart without bars gives an
 * empty route. Never throws: where signs contradict each other, the nearest route that can be played.
 */
export function planOf(marks: Marks, numbers: Numbers): Plan {
  const { written, places } = routeFrom(marks);
  const sounding = withRests(places);
  const route = sounding.map(({ bar }) => bar);
  const all = writtenBars(marks);
  const pickup = route[0] !== undefined && route[0] === written[0] ? pickupOf(all) : null;
  const twins = twinPlaces(route, classesOf(all), pickup !== null && all[0]!.tied);
  const sections = sectionsOf(sounding, sectionStarts(written));
  // Same music, same silence: one mark is enough for a class.
  const silent = new Set(twins.filter((_, place) => route[place]!.silent));
  const bars = sections.flatMap((section, index) =>
    route.slice(section.from, section.to + 1).map((bar, i): RouteBar => {
      const place = section.from + i;
      const twin = twins[place]!;
      return {
        bar: bar.id,
        boxes: bar.boxes,
        number: bar.number,
        twin,
        section: index,
        meter: bar.meter,
        unit: bar.unit,
        beats: bar.beats,
        silent: silent.has(twin),
        tied: bar.tied,
        leadIn: leadInAt(route, place, pickup),
      };
    }),
  );
  return { version: 1, bars, sections, pickup, numbers };
}

/** The plan of marks that can be drilled; null while their signs contradict each other, or without bars. */
export function playablePlan(marks: Marks, numbers: Numbers): Plan | null {
  if (contradictionOf(routeFrom(marks).problems)) return null;
  const plan = planOf(marks, numbers);
  return plan.bars.length > 0 ? plan : null;
}

/** A printed pickup sounds before place 0 only; when the bar comes again, its own lead-in does. */
function leadInAt(route: readonly WrittenBar[], place: number, pickup: Pickup | null): number {
  const bar = route[place]!;
  return place === 0 && pickup !== null ? pickup.beats : bar.leadIn;
}
