import { unfold } from './repeats.ts';
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

/** The written bars' ids in the order they sound, pickup left out. Throws RepeatsContradict. */
export function routeOf(marks: Marks): BarId[] {
  return unfold(withoutPickups(writtenBars(marks))).map((bar) => bar.id);
}

/**
 * Sections along the route. One begins at each marked bar, and where a repeat leads into another
 * section; what comes before the first mark, or all of a chart without marks, has an empty name.
 */
function sectionsOf(route: readonly WrittenBar[], nameAt: ReadonlyMap<BarId, WrittenBar | null>): Section[] {
  const sections: Section[] = [];
  let current: WrittenBar | null | undefined;
  for (const [place, bar] of route.entries()) {
    const start = nameAt.get(bar.id) ?? null;
    const last = sections.at(-1);
    if (last !== undefined && start === current && bar.section === null)
      sections[sections.length - 1] = { ...last, to: place };
    else sections.push({ from: place, to: place, name: start?.section ?? '' });
    current = start;
  }
  return sections;
}

/** For each written bar the marked bar that its section starts with, if any. */
function sectionStarts(written: readonly WrittenBar[]): Map<BarId, WrittenBar | null> {
  let start: WrittenBar | null = null;
  return new Map(
    written.map((bar) => {
      if (bar.section !== null) start = bar;
      return [bar.id, start];
    }),
  );
}

function pickupOf(written: readonly WrittenBar[]): Pickup | null {
  const first = written[0];
  if (first === undefined || first.pickup === 0) return null;
  return { bar: first.id, boxes: first.boxes, beats: first.pickup };
}

/** A section's name may stand on the pickup: it then belongs to the bar that the pickup leads in. */
function withoutPickups(written: readonly WrittenBar[]): WrittenBar[] {
  return written.flatMap((bar, i) => {
    const before = written[i - 1];
    if (bar.pickup > 0) return [];
    return before !== undefined && before.pickup > 0
      ? [
          {
            ...bar,
            section: bar.section ?? before.section,
            repeatStart: bar.repeatStart || before.repeatStart,
          },
        ]
      : [bar];
  });
}

/**
 * The plan of a chart: its route with twins and sections, and the numbers.
 * A chart without bars gives an empty route. Throws RepeatsContradict.
 */
export function planOf(marks: Marks, numbers: Numbers): Plan {
  const written = writtenBars(marks);
  const full = withoutPickups(written);
  const route = unfold(full);
  const pickup = pickupOf(written);
  const twins = twinPlaces(route, classesOf(written), pickup !== null && written[0]!.tied);
  const sections = sectionsOf(route, sectionStarts(full));
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

/** A printed pickup sounds before place 0 only; when the bar comes again, its own lead-in does. */
function leadInAt(route: readonly WrittenBar[], place: number, pickup: Pickup | null): number {
  const bar = route[place]!;
  return place === 0 && pickup !== null ? pickup.beats : bar.leadIn;
}
