import { usualConventions } from './conventions.ts';
import { LONGEST, play, type Sounding } from './play.ts';
import type { SignProblem } from './repeats.ts';
import type { Marks, Stretch } from './types.ts';
import { writtenBars, type WrittenBar } from './written.ts';

export interface Route {
  /** Every written bar but pickups, in reading order. */
  readonly written: readonly WrittenBar[];
  readonly places: readonly Sounding[];
  /** What does not fit; the route is then the nearest that can be played. Empty when all is well. */
  readonly problems: readonly SignProblem[];
}

/**
 * The written bars in the order they sound: by hand if the player has put it right, otherwise as the signs say
 * under the chart's conventions (`conventions.ts`), chorus after chorus. Pickups are left out, a multi-bar rest
 * is one place. Never throws and always ends: no jump is taken twice in a chorus.
 */
export function routeFrom(marks: Marks): Route {
  const written = withoutPickups(writtenBars(marks));
  if (marks.byHand !== undefined) return handRoute(written, marks.byHand);
  const conventions = { ...usualConventions, ...marks.conventions };
  const count = marks.choruses ?? 1;
  const places: Sounding[] = [];
  const problems: SignProblem[] = [];
  const playable = new Set<WrittenBar>();
  for (let n = 0; n < count && places.length <= LONGEST; n++) {
    const bars = inChorus(written, n, count);
    for (const bar of bars) playable.add(bar);
    const chorus = play(bars, conventions, { isLast: n === count - 1, several: count > 1 });
    places.push(...chorus.places);
    problems.push(...chorus.problems);
  }
  const kept = withinLongest(places);
  const isCut = kept.length < places.length;
  if (isCut) problems.push({ kind: 'too-long', bar: written[0]!.id });
  return {
    written,
    places: kept,
    // Of a route that was cut nobody can say what it would have come to.
    problems: onceEach(isCut ? problems : [...problems, ...unplayed(written, playable, places)]),
  };
}

/** As much of a route as a tune is long; a multi-bar rest counts its bars. */
function withinLongest(places: readonly Sounding[]): readonly Sounding[] {
  let bars = 0;
  const end = places.findIndex(({ bar }) => (bars += bar.bars) > LONGEST);
  return end < 0 ? places : places.slice(0, end);
}

function onceEach(problems: readonly SignProblem[]): SignProblem[] {
  return problems.filter(
    (one, i) => !problems.slice(0, i).some((o) => o.kind === one.kind && o.bar === one.bar),
  );
}

/** The first of every run of bars that nothing leads to. */
function unplayed(
  written: readonly WrittenBar[],
  playable: ReadonlySet<WrittenBar>,
  places: readonly Sounding[],
): SignProblem[] {
  const played = new Set(places.map(({ bar }) => bar));
  const isMissed = (bar: WrittenBar | undefined) =>
    bar !== undefined && playable.has(bar) && !played.has(bar);
  return written
    .filter((bar, i) => isMissed(bar) && !isMissed(written[i - 1]))
    .map(({ id }) => ({ kind: 'never-played', bar: id }));
}

/** What stands on a pickup at its left edge belongs to the bar that it leads in. */
function withoutPickups(written: readonly WrittenBar[]): WrittenBar[] {
  return written.flatMap((bar, i) => {
    const before = written[i - 1];
    if (bar.pickup > 0) return [];
    if (before === undefined || before.pickup === 0) return [bar];
    return [
      {
        ...bar,
        section: bar.section ?? before.section,
        when: bar.when ?? before.when,
        repeatStart: bar.repeatStart || before.repeatStart,
        segno: bar.segno || before.segno,
        coda: bar.coda || before.coda,
      },
    ];
  });
}

/** The bars that sound in chorus `n` of `count`: without the sections kept for another one or left out. */
function inChorus(written: readonly WrittenBar[], n: number, count: number): WrittenBar[] {
  let when: WrittenBar['when'] = null;
  return written.filter((bar) => {
    if (startsSection(bar)) when = bar.when;
    if (when === 'never') return false;
    return when === null || n === (when === 'first-chorus' ? 0 : count - 1);
  });
}

/** A section begins at a named bar and with the coda. */
export const startsSection = (bar: WrittenBar): boolean => bar.section !== null || bar.coda;

function handRoute(written: readonly WrittenBar[], order: readonly Stretch[]): Route {
  const places: Sounding[] = [];
  const problems: SignProblem[] = [];
  let next = 0;
  for (const { from, to } of order) {
    const ends = [from, to].map((id) => written.findIndex(({ ids }) => ids.includes(id)));
    if (ends.includes(-1)) problems.push({ kind: 'order-gone', bar: null });
    else {
      const [first, last] = [Math.min(...ends), Math.max(...ends)];
      places.push(
        ...written
          .slice(first, last + 1)
          .map((bar, i) => ({ bar, leap: i === 0 && (places.length === 0 || first < next) })),
      );
      next = last + 1;
    }
  }
  const kept = withinLongest(places);
  if (kept.length < places.length) problems.push({ kind: 'too-long', bar: written[0]!.id });
  return { written, places: kept, problems: onceEach(problems) };
}
