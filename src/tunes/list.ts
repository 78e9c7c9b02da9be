/** Which tunes are listed, and in which order. Pure, and quick for thousands. */
import type { Card } from '../core/log/card.ts';
import type { TuneSort } from '../store/types.ts';

/** What is listed: every tune in use, those of one set, or those put away. */
export type Place =
  { readonly kind: 'all' } | { readonly kind: 'archive' } | { readonly kind: 'set'; readonly set: string };

/** The cards of a place; removed ones are in none, archived ones only in the archive. */
export function cardsIn(cards: readonly Card[], place: Place): Card[] {
  const kept = cards.filter((card) => !card.removed && card.archived === (place.kind === 'archive'));
  if (place.kind !== 'set') return kept;
  return kept.filter((card) => card.sets.some(({ set }) => set === place.set));
}

/** Without capitals and accents; letters that no accent makes, such as ø and ß, are spelt plainly. */
export function plain(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase()
    .replace(/[øœæßłđð]/g, (letter) => SPELT[letter] ?? letter);
}
const SPELT: Readonly<Record<string, string>> = {
  ø: 'o',
  œ: 'oe',
  æ: 'ae',
  ß: 'ss',
  ł: 'l',
  đ: 'd',
  ð: 'd',
};

/** What a card is found by, worked out once a card. */
const texts = new WeakMap<Card, string>();
function textOf(card: Card): string {
  const known = texts.get(card);
  if (known !== undefined) return known;
  const text = plain([card.name, card.words, ...card.sets.map(({ set }) => set)].join('\n'));
  texts.set(card, text);
  return text;
}

/** Tunes in whose name, words or sets every word of the search is found, accents and capitals aside. */
export function findTunes(cards: readonly Card[], search: string): readonly Card[] {
  const words = plain(search).split(/\s+/).filter(Boolean);
  if (words.length === 0) return cards;
  return cards.filter((card) => words.every((word) => textOf(card).includes(word)));
}

/** How far it has come: 0 not boxed, 1 boxed, 1–2 on its ladder, 2 at the goal. */
export function standing(card: Card): number {
  if (card.marks === null) return 0;
  if (card.finished) return 2;
  const steps = card.rungs.reduce((sum, rung) => sum + rung.steps, 0);
  const done = card.rungs.reduce((sum, rung) => sum + Math.min(rung.done, rung.steps), 0);
  return steps === 0 ? 1 : 1 + done / steps;
}

/** Times of the log are UTC and of one form: their order is that of the text. */
const latest = (a: string | null, b: string | null) => ((a ?? '') < (b ?? '') ? 1 : a === b ? 0 : -1);

/**
 * The one played last first, by name, the one that has come furthest first, or the newest first; where that is
 * the same, by name. Returns a new list.
 */
export function sortTunes(cards: readonly Card[], by: TuneSort, language: string): Card[] {
  // One collator: made anew for each comparison it takes a thousand times as long.
  const { compare } = new Intl.Collator(language, { numeric: true, sensitivity: 'base' });
  const byName = (a: Card, b: Card) => compare(a.name, b.name);
  const orders: Record<TuneSort, (a: Card, b: Card) => number> = {
    played: (a, b) => latest(a.playedAt, b.playedAt),
    name: byName,
    standing: (a, b) => standing(b) - standing(a),
    added: (a, b) => latest(a.addedAt, b.addedAt),
  };
  return cards.toSorted((a, b) => orders[by](a, b) || byName(a, b) || (a.chart < b.chart ? -1 : 1));
}

/** What has come onto the shelf between two readings of it: tunes that were not on it, and passes. */
export function newsOf(
  before: readonly Card[],
  after: readonly Card[],
): { readonly tunes: number; readonly passes: number } {
  const here = (cards: readonly Card[]) => cards.filter(({ removed }) => !removed);
  const known = new Set(here(before).map(({ chart }) => chart));
  const count = (cards: readonly Card[]) => cards.reduce((sum, { passes }) => sum + passes, 0);
  return {
    tunes: here(after).filter(({ chart }) => !known.has(chart)).length,
    passes: Math.max(0, count(after) - count(before)),
  };
}
