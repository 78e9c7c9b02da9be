import type { Card } from '../core/log/card.ts';
import { isMissing } from './copies.ts';
import type { Shelf } from './shelf.ts';
import type { View } from './view.ts';

/**
 * A chart's link was pressed. Without its file the stand could only send the player back here, so it is asked for
 * first; a press that comes before it is known what is here waits for that.
 */
export function opened(event: MouseEvent, card: Card, begin: boolean, shelf: Shelf, view: View): void {
  const link = event.currentTarget as HTMLAnchorElement;
  if (shelf.documents.value === null) {
    event.preventDefault();
    const known = shelf.look().catch(() => undefined);
    void known.then(() => (shelf.documents.value === null ? location.assign(link.href) : link.click()));
  } else if (isMissing(card, shelf.documents.value)) {
    event.preventDefault();
    view.over.value = { kind: 'file-again', card, begin };
  }
}
