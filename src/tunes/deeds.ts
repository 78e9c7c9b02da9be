/** What can be done with one tune or several, as one change that can be taken back. */
import type { Card } from '../core/log/card.ts';
import { plural, t, type MessageKey, type PluralKey } from '../host/i18n.ts';
import type { Shelf } from './shelf.ts';
import { putIn } from './sets.ts';

/** One tune by its name, several by their number. */
function said(one: MessageKey, several: PluralKey, cards: readonly Card[], ...more: string[]): string {
  const [card] = cards;
  return card && cards.length === 1 ? t(one, card.name, ...more) : plural(several, cards.length, ...more);
}

export const archive = (shelf: Shelf, cards: readonly Card[], away: boolean): Promise<void> =>
  shelf.make(
    away
      ? said('tunes_archived', 'tunes_archived_several', cards)
      : said('tunes_unarchived', 'tunes_unarchived_several', cards),
    cards.map(({ chart }) => ({ chart, bodies: [{ type: 'archived', away }] })),
  );

export const remove = (shelf: Shelf, cards: readonly Card[]): Promise<void> =>
  shelf.make(
    said('tunes_removed', 'tunes_removed_several', cards),
    cards.map(({ chart }) => ({ chart, bodies: [{ type: 'removed' }] })),
  );

export const putInSet = (shelf: Shelf, cards: readonly Card[], set: string): Promise<void> =>
  shelf.make(
    said('tunes_put_in', 'tunes_put_in_several', cards, set),
    putIn(shelf.cards.value ?? [], cards, set),
  );
