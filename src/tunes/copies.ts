/** The copies of the players' files: what they take, and which could be dropped. */
import type { Card } from '../core/log/card.ts';
import type { DocumentInfo } from '../store/types.ts';

export interface Copies {
  readonly count: number;
  readonly bytes: number;
}

export const sumOf = (documents: readonly DocumentInfo[]): Copies => ({
  count: documents.length,
  bytes: documents.reduce((sum, { bytes }) => sum + bytes, 0),
});

export const keptOf = (documents: readonly DocumentInfo[]): DocumentInfo[] =>
  documents.filter(({ kept }) => kept);

/** Days after which a tune that is not played counts as long unplayed. */
export const LONG = 90;

/**
 * Kept files none of whose charts has been played, or has come in, within so many days; removed charts need
 * no file at all. `now` in ms since 1970.
 */
export function unplayed(
  cards: readonly Card[],
  documents: readonly DocumentInfo[],
  now: number,
  days = LONG,
): DocumentInfo[] {
  const since = now - days * 86_400_000;
  const late = (at: string | null) => at !== null && Date.parse(at) >= since;
  const wanted = new Set(
    cards
      .filter((card) => !card.removed && (late(card.playedAt) || late(card.addedAt)))
      .map(({ document }) => document),
  );
  return keptOf(documents).filter(({ hash }) => !wanted.has(hash));
}

/** Files of which every chart has been removed. */
export function unwantedIn(cards: readonly Card[]): ReadonlySet<string> {
  const of = (removed: boolean) =>
    cards.flatMap((card) => (card.removed === removed && card.document !== null ? [card.document] : []));
  const wanted = new Set(of(false));
  return new Set(of(true).filter((document) => !wanted.has(document)));
}

/** Whether the copy of a chart's file has been dropped; false while that is not known yet. */
export function isMissing(card: Card, documents: ReadonlyMap<string, DocumentInfo> | null): boolean {
  return documents !== null && card.document !== null && documents.get(card.document)?.kept !== true;
}
