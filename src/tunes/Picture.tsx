import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Card } from '../core/log/card.ts';
import type { Store } from '../store/types.ts';
import { pictureAt, pictureOf } from './pictures.ts';

/** A row that is scrolled past within this time wants no picture. */
const STILL_MS = 80;

/** The chart's own first line, drawn when its row has come into view; a strip of paper until then, or for good. */
export function Picture({ card, store }: { card: Card; store: Store }) {
  const source = useSignal<string | null>(pictureAt(card));
  useEffect(() => {
    source.value = pictureAt(card);
    if (source.value !== null) return;
    const gone = new AbortController();
    const still = setTimeout(() => {
      void pictureOf(card, store, gone.signal).then((url) => {
        if (!gone.signal.aborted) source.value = url;
      });
    }, STILL_MS);
    return () => {
      clearTimeout(still);
      gone.abort();
    };
  }, [card.chart, card.marks]);
  return <span class="picture">{source.value !== null && <img src={source.value} alt={''} />}</span>;
}
