import { barsOf, fullBarsOf, mapBars, placeOf, Refused } from './edit-shape.ts';
import type { Bar, BarId, Marks } from './types.ts';

/** A bar without its `as`, or with another one. */
function alike(bar: Bar, as: BarId | undefined): Bar {
  if (bar.as === as) return bar;
  if (as !== undefined) return { ...bar, as };
  const rest: { as?: BarId } & Bar = { ...bar };
  delete rest.as;
  return rest;
}

/** For any bar the first that holds its music, however long the chain of "as" is. */
export function rootsOf(marks: Marks): (bar: BarId) => BarId {
  const as = new Map(barsOf(marks).map((each) => [each.id, each.as]));
  return (bar) => {
    const seen = new Set<BarId>();
    let root = bar;
    for (
      let next = as.get(root);
      next !== undefined && as.has(next) && !seen.has(next);
      next = as.get(next)
    ) {
      seen.add(next);
      root = next;
    }
    return root;
  };
}

export const rootOf = (marks: Marks, bar: BarId): BarId => rootsOf(marks)(bar);

/** Points every bar of a class at its first bar in reading order. */
function rooted(marks: Marks, members: ReadonlySet<BarId>): Marks {
  const first = barsOf(marks).find(({ id }) => members.has(id))?.id;
  return mapBars(marks, (bar) =>
    members.has(bar.id) ? alike(bar, bar.id === first ? undefined : first) : bar,
  );
}

/** The bars that hold the same music as this one, itself included. */
export function classOf(marks: Marks, bar: BarId): ReadonlySet<BarId> {
  const root = rootsOf(marks);
  const own = root(bar);
  return new Set(barsOf(marks).flatMap(({ id }) => (root(id) === own ? [id] : [])));
}

/** Takes bars out of their classes; whoever was "as" them is now as the first one left. */
export function apart(marks: Marks, bars: readonly BarId[]): Marks {
  return bars.reduce((all, bar) => {
    const members = new Set(classOf(all, bar));
    members.delete(bar);
    const alone = mapBars(all, (each) => (each.id === bar ? alike(each, undefined) : each));
    return members.size > 0 ? rooted(alone, members) : alone;
  }, marks);
}

/**
 * Says pairwise that bars hold the same music; the later ones of a class are "as" its first. A bar that was
 * already as another one leaves it; a bar that others are as brings them along, since twins are transitive.
 */
export function pair(marks: Marks, bars: readonly BarId[], like: readonly BarId[]): Marks {
  if (bars.length !== like.length) throw new Refused('different-lengths', [bars.length, like.length]);
  if (bars.some((bar, i) => bar === like[i])) throw new Refused('itself');
  return bars.reduce((all, bar, i) => {
    const moved = rootOf(all, bar) === bar ? all : apart(all, [bar]);
    return rooted(moved, new Set([...classOf(moved, like[i]!), ...classOf(moved, bar)]));
  }, marks);
}

/** Bars beside those that they may be as, and whether they are. */
export interface Told {
  readonly bar: BarId;
  readonly like: BarId;
  readonly isSame: boolean;
}

/**
 * The player has looked: some of these pairs hold the same music, and with them the bars that either was as; the
 * others are told apart for good.
 */
export function tellTwins(marks: Marks, told: readonly Told[]): Marks {
  const paired = told
    .filter(({ isSame }) => isSame)
    .reduce(
      (all, { bar, like }) => rooted(all, new Set([...classOf(all, like), ...classOf(all, bar)])),
      marks,
    );
  const fresh = told.flatMap(({ bar, like, isSame }) => (isSame ? [] : [[bar, like] as const]));
  return fresh.length === 0 ? paired : { ...paired, unlike: [...(marks.unlike ?? []), ...fresh] };
}

/** These bars are as those from `from` on, one by one. */
export function asFrom(marks: Marks, bars: readonly BarId[], from: BarId): Marks {
  const full = fullBarsOf(marks).map(({ id }) => id);
  const own = bars.filter((bar) => full.includes(bar));
  const start = full.indexOf(from);
  if (start < 0 || own.length === 0) throw new Refused('not-there');
  const like = full.slice(start, start + own.length);
  if (like.length < own.length) throw new Refused('too-few-bars', [like.length, own.length]);
  if (like.some((bar) => own.includes(bar))) throw new Refused('itself');
  return pair(marks, own, like);
}

/** A section as written: the full bars from its first bar to the next section. */
export interface WrittenSection {
  readonly name: string;
  /** The bar that carries the name. */
  readonly start: BarId;
  readonly bars: readonly BarId[];
}

/** Sections in reading order; bars before the first named one belong to a section without a name. */
export function sectionsOf(marks: Marks): readonly WrittenSection[] {
  const sections: { name: string; start: BarId; bars: BarId[] }[] = [];
  for (const bar of barsOf(marks)) {
    if (bar.section !== undefined) sections.push({ name: bar.section, start: bar.id, bars: [] });
    else if (sections.length === 0) sections.push({ name: '', start: bar.id, bars: [] });
    if (bar.pickup === undefined && !bar.continues) sections.at(-1)!.bars.push(bar.id);
  }
  return sections.filter(({ name, bars }) => bars.length > 0 || name !== '');
}

/** A whole section is as another, bar by bar; sections of different lengths are refused. */
export function asSection(marks: Marks, start: BarId, like: BarId): Marks {
  placeOf(marks, start);
  const sections = sectionsOf(marks);
  const own = sections.find((section) => section.start === start);
  const other = sections.find((section) => section.start === like);
  if (!own || !other) throw new Refused('not-there');
  return pair(marks, own.bars, other.bars);
}
