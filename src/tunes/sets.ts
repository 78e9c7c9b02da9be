/** Sets: ordered lists of tunes for a gig. A set is the name that its tunes share. */
import type { Card } from '../core/log/card.ts';
import type { Addition } from '../store/types.ts';

export interface TuneSet {
  readonly name: string;
  readonly count: number;
}

const rankIn = (card: Card, set: string) => card.sets.find((each) => each.set === set)?.rank ?? Infinity;

/** The sets that have a tune in use, by name. */
export function setsOf(cards: readonly Card[], language: string): TuneSet[] {
  const counts = new Map<string, number>();
  for (const card of cards)
    if (!card.removed && !card.archived)
      for (const { set } of card.sets) counts.set(set, (counts.get(set) ?? 0) + 1);
  const { compare } = new Intl.Collator(language, { numeric: true });
  return [...counts].map(([name, count]) => ({ name, count })).sort((a, b) => compare(a.name, b.name));
}

/** The tunes of a set in its order; two that a merge has put at the same rank by their keys. Returns a new list. */
export function inOrder(cards: readonly Card[], set: string): Card[] {
  return cards.toSorted((a, b) => rankIn(a, set) - rankIn(b, set) || (a.chart < b.chart ? -1 : 1));
}

const listed = (card: Card, set: string, rank: number | null): Addition => ({
  chart: card.chart,
  bodies: [{ type: 'listed', set, rank }],
});

/** Puts tunes at the end of a set; those that are in it stay where they are. `cards`: all there are. */
export function putIn(cards: readonly Card[], chosen: readonly Card[], set: string): Addition[] {
  // Removed tunes count too: one that is brought back finds its rank still free.
  const ranks = cards.flatMap((card) => card.sets.filter((each) => each.set === set).map(({ rank }) => rank));
  const next = Math.max(-1, ...ranks) + 1;
  return chosen
    .filter((card) => rankIn(card, set) === Infinity)
    .map((card, i) => listed(card, set, next + i));
}

export const takeOut = (chosen: readonly Card[], set: string): Addition[] =>
  chosen.filter((card) => rankIn(card, set) !== Infinity).map((card) => listed(card, set, null));

/** Moves one tune of a set up (-1) or down (1); nothing at its ends. `inSet`: its tunes in order. */
export function moved(inSet: readonly Card[], card: Card, set: string, by: -1 | 1): Addition[] {
  const at = inSet.indexOf(card);
  const other = inSet[at + by];
  if (at < 0 || !other) return [];
  const order = inSet.with(at, other).with(at + by, card);
  return order.flatMap((each, rank) => (rankIn(each, set) === rank ? [] : [listed(each, set, rank)]));
}

/** The set under another name; into one of that name its tunes go at the end. */
export function renamed(cards: readonly Card[], set: string, name: string): Addition[] {
  const members = inOrder(
    cards.filter((card) => rankIn(card, set) !== Infinity),
    set,
  );
  const into = new Map(putIn(cards, members, name).map((each) => [each.chart, each.bodies]));
  return members.map((card) => ({
    chart: card.chart,
    bodies: [{ type: 'listed', set, rank: null }, ...(into.get(card.chart) ?? [])],
  }));
}
