/** What the finder proposed and what the player has made of it. */
import { mendOrder } from './by-hand.ts';
import { barsOf, insert, isLooseLine, mapBars, overlaps } from './edit-shape.ts';
import { removeSystem } from './edit-systems.ts';
import { pair, rootsOf, tellTwins } from './edit-twins.ts';
import { isSamePlace } from './place.ts';
import { linesLying, turnOn, turnsOf, turnsWith, withTurns } from './turn.ts';
import type { Bar, BarId, Marks, PageBox, System, Turns } from './types.ts';
import { withVersion } from './version.ts';

/** A bar that was found with less than this is in doubt: the player is asked about it first. */
export const IN_DOUBT = 0.9;

export const isInDoubt = ({ found }: Bar): boolean => found !== undefined && found < IN_DOUBT;

/** Bars to be looked at, in reading order. */
export const doubtsOf = (marks: Marks): readonly Bar[] => barsOf(marks).filter(isInDoubt);

function without(bar: Bar): Bar {
  const { found, ...rest } = bar;
  return rest;
}

/** These bars are right: they count as the player's own from now on. */
export function vouch(marks: Marks, bars: readonly BarId[]): Marks {
  const right = new Set(bars);
  return mapBars(marks, (bar) => (bar.found !== undefined && right.has(bar.id) ? without(bar) : bar));
}

/** It differs at most in what it is as: then another bar of its class has changed, not this one. */
function isAsBefore(was: Bar | undefined, bar: Bar): boolean {
  if (was === undefined || was === bar) return was === bar;
  const keys = new Set([...Object.keys(was), ...Object.keys(bar)] as (keyof Bar)[]);
  keys.delete('as');
  return [...keys].every((key) => JSON.stringify(was[key]) === JSON.stringify(bar[key]));
}

/**
 * After an edit: every bar that it has changed or moved is the player's own. `isOfTwins`: it was about what is
 * as what; otherwise a bar whose class alone has changed is still as it was found.
 */
export function seen(before: Marks, after: Marks, isOfTwins = false): Marks {
  const bars = new Map(barsOf(before).map((bar) => [bar.id, bar]));
  const heights = new Map(before.systems.map(({ id, top, bottom }) => [id, { top, bottom }]));
  const systems = after.systems.map((system) => {
    const was = heights.get(system.id);
    const stays = was?.top === system.top && was.bottom === system.bottom;
    const next = system.bars.map((bar) =>
      bar.found === undefined ||
      (stays && (isOfTwins ? bars.get(bar.id) === bar : isAsBefore(bars.get(bar.id), bar)))
        ? bar
        : without(bar),
    );
    return next.every((bar, i) => bar === system.bars[i]) ? system : { ...system, bars: next };
  });
  return systems.every((system, i) => system === after.systems[i]) ? after : { ...after, systems };
}

/** How finding anew has changed the marks, in bars. */
export interface FoundAnew {
  readonly marks: Marks;
  readonly added: number;
  readonly gone: number;
  /** Bars of lines that the player has touched: they stay as they are. */
  readonly kept: number;
}

/**
 * Takes what was found anew into the marks there are. A line of which the player has touched any bar stays
 * whole, with all that was said of it; every other line is taken from `found`. A bar found again at its place
 * keeps its id, and with it its history. A page without such a line lies as it does in `found`.
 */
export function takeFound(marks: Marks, found: Marks): FoundAnew {
  const loose = marks.systems.filter(isLooseLine);
  const own = loose.reduce((rest, { id }) => removeSystem(rest, id), marks);
  const laid = withTurns(own, lyingAs(own, turnsOf(found)));
  const lying = linesLying(found, turnsOf(laid));
  const anew = lying.filter((system) => !own.systems.some((other) => overlaps(other, system)));
  const ids = sameIds(linesLying({ ...marks, systems: loose }, turnsOf(laid)), anew);
  const idOf = (id: BarId) => ids.get(id) ?? id;
  const present = new Set(barsOf(own).map(({ id }) => id));
  for (const { bars } of anew) for (const { id } of bars) present.add(idOf(id));
  const sureOf = new Map(loose.flatMap(({ bars }) => bars.map(({ id, found }) => [id, found!] as const)));
  const named = anew.map((system) => ({
    ...system,
    bars: system.bars.map(({ as, ...bar }): Bar => {
      const like = as === undefined ? undefined : idOf(as);
      // A doubt that a likeness has settled is not asked about again.
      const found = Math.max(bar.found ?? 0, sureOf.get(idOf(bar.id)) ?? 0);
      return {
        ...bar,
        ...(bar.found !== undefined && { found }),
        id: idOf(bar.id),
        ...(like !== undefined && present.has(like) && { as: like }),
      };
    }),
  }));
  const start = own.systems.length === 0 ? { meter: found.meter, unit: found.unit } : {};
  const all = named.reduce(insert, { ...laid, ...start });
  const old = new Set(loose.flatMap(({ bars }) => bars.map(({ id }) => id)));
  const fresh = new Set(named.flatMap(({ bars }) => bars.map(({ id }) => id)));
  const together = tellTwins(
    all,
    [
      ...foundTwins({ ...found, systems: lying }, { own, fresh, idOf }),
      ...oldTwins(marks, { own, fresh }),
    ].map(([bar, like]) => ({
      bar,
      like,
      isSame: true,
    })),
  );
  return {
    marks: withVersion(mendOrder(marks, together)),
    added: [...fresh].filter((id) => !old.has(id)).length,
    gone: [...old].filter((id) => !fresh.has(id)).length,
    kept: barsOf(own).length,
  };
}

/** Bars that stay and ids of those that are found anew. */
interface Taken {
  readonly own: Marks;
  readonly fresh: ReadonlySet<BarId>;
}

type Twins = readonly (readonly [BarId, BarId])[];

/** Classes of more than one bar, in reading order. */
function classesIn(marks: Marks): (readonly BarId[])[] {
  const root = rootsOf(marks);
  const classes = new Map<BarId, BarId[]>();
  for (const { id } of barsOf(marks)) classes.set(root(id), [...(classes.get(root(id)) ?? []), id]);
  return [...classes.values()].filter((members) => members.length > 1);
}

/** Twins as found of bars found anew, with each other and with bars of lines that stay, where nobody has touched those. */
function foundTwins(
  found: Marks,
  { own, fresh, idOf }: Taken & { readonly idOf: (id: BarId) => BarId },
): Twins {
  const here = sameIds(own.systems, found.systems);
  const untouched = new Set(barsOf(own).flatMap(({ id, found: sure }) => (sure === undefined ? [] : [id])));
  const isApart = (a: BarId, b: BarId) =>
    own.unlike?.some((pair) => pair.includes(a) && pair.includes(b)) ?? false;
  return classesIn(found).flatMap((members): Twins => {
    const ids = members.map((id) => here.get(id) ?? idOf(id));
    const first = ids.find((id) => fresh.has(id));
    if (first === undefined) return [];
    return ids
      .filter((id) => id !== first && (fresh.has(id) || untouched.has(id)) && !isApart(id, first))
      .map((id) => [id, first] as const);
  });
}

/** What a bar that the player has touched was as, or was as it, found again at its place. */
function oldTwins(marks: Marks, { own, fresh }: Taken): Twins {
  const touched = new Set(barsOf(own).flatMap(({ id, found }) => (found === undefined ? [id] : [])));
  return classesIn(marks).flatMap((members): Twins => {
    const first = members.find((id) => fresh.has(id));
    return first === undefined
      ? []
      : members.filter((id) => touched.has(id)).map((id) => [id, first] as const);
  });
}

/** How the pages lie: as they were found, but for those that hold lines. */
function lyingAs(own: Marks, found: Turns): Turns {
  const held = new Set(own.systems.map(({ page }) => page));
  return Object.keys(found.pages)
    .map(Number)
    .filter((page) => !held.has(page))
    .reduce((turns, page) => turnsWith(turns, page, turnOn(found, page)), turnsOf(own));
}

/**
 * Takes in what was found on one page, from 0, that held nothing: the others stay as they are, but that a bar on
 * them which nobody has touched may hold the same music as one of the new.
 */
export function takePage(marks: Marks, found: Marks, page: number): Marks {
  const lines = linesLying(found, turnsOf(marks)).filter((line) => line.page === page);
  const loose = marks.systems.filter((line) => line.page !== page && isLooseLine(line));
  const ids = sameIds(linesLying({ ...marks, systems: loose }, turnsOf(found)), found.systems);
  const fresh = new Set(lines.flatMap(({ bars }) => bars.map(({ id }) => id)));
  const bare = lines.map((line) => ({ ...line, bars: line.bars.map(({ as, ...bar }): Bar => bar) }));
  const start = marks.systems.length === 0 ? { meter: found.meter, unit: found.unit } : {};
  const all = bare.reduce(insert, { ...marks, ...start });
  const here = (id: BarId) => (fresh.has(id) ? id : ids.get(id));
  return barsOf(found).reduce((made, { id, as }) => {
    const [bar, like] = [here(id), as === undefined ? undefined : here(as)];
    const isNews = fresh.has(id) || (as !== undefined && fresh.has(as));
    return isNews && bar !== undefined && like !== undefined ? pair(made, [bar], [like]) : made;
  }, withVersion(all));
}

/** Ids of found bars that stand where a bar stood before, with its id. */
function sameIds(before: readonly System[], found: readonly System[]): ReadonlyMap<BarId, BarId> {
  const places = before.flatMap((system) => system.bars.map((bar) => ({ bar, ...placeOn(system, bar) })));
  const taken = new Set<BarId>();
  const ids = new Map<BarId, BarId>();
  for (const system of found)
    for (const bar of system.bars) {
      const here = placeOn(system, bar);
      const same = places.find((place) => !taken.has(place.bar.id) && isSamePlace(place, here));
      if (!same) continue;
      taken.add(same.bar.id);
      ids.set(bar.id, same.bar.id);
    }
  return ids;
}

const placeOn = (system: System, bar: Bar): { readonly page: number; readonly box: PageBox } => ({
  page: system.page,
  box: [bar.x0, system.top, bar.x1, system.bottom],
});
