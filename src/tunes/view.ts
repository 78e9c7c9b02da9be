import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Card } from '../core/log/card.ts';
import type { ChartKey } from '../core/log/events.ts';
import { getLanguage } from '../host/i18n.ts';
import { cardsIn, findTunes, sortTunes, type Place } from './list.ts';
import type { Looking } from './looking.ts';
import { inOrder, setsOf, type TuneSet } from './sets.ts';
import type { Shelf } from './shelf.ts';

/** What lies over the page. */
export type Over =
  | { readonly kind: 'help' | 'settings' | 'set-name' | 'put-in-set' }
  | { readonly kind: 'details' | 'drop'; readonly card: Card }
  | { readonly kind: 'file-again'; readonly card: Card; readonly begin: boolean };

/** How the player looks at the list: which tunes, found by what, which are chosen. */
export interface View {
  readonly place: ReadonlySignal<Place>;
  go(place: Place): void;
  readonly search: Signal<string>;
  /** Sets that have a tune. */
  readonly sets: ReadonlySignal<readonly TuneSet[]>;
  /** The tunes of the place in order, and those of them that the search finds. */
  readonly listed: ReadonlySignal<readonly Card[]>;
  readonly found: ReadonlySignal<readonly Card[]>;
  /** Null while tunes are opened, not chosen. */
  readonly chosen: Signal<ReadonlySet<ChartKey> | null>;
  readonly over: Signal<Over | null>;
}

/** `before`: how the list was looked at when this tab left it. */
export function createView(shelf: Shelf, before: Looking | null): View {
  const wanted = signal<Place>(before?.place ?? { kind: 'all' });
  const search = signal(before?.search ?? '');
  const chosen = signal<ReadonlySet<ChartKey> | null>(null);
  const language = getLanguage();
  const cards = computed(() => shelf.cards.value ?? []);
  const sets = computed(() => setsOf(cards.value, language));
  const place = computed<Place>(() => {
    const now = wanted.value;
    // A set whose last tune has gone is no more.
    return now.kind === 'set' && !sets.value.some(({ name }) => name === now.set) ? { kind: 'all' } : now;
  });
  const sort = computed(() => shelf.settings.value.tuneSort);
  const listed = computed(() => {
    const inPlace = cardsIn(cards.value, place.value);
    return place.value.kind === 'set'
      ? inOrder(inPlace, place.value.set)
      : sortTunes(inPlace, sort.value, language);
  });
  return {
    place,
    go(to) {
      wanted.value = to;
      chosen.value = null;
    },
    search,
    sets,
    listed,
    found: computed(() => findTunes(listed.value, search.value)),
    chosen,
    over: signal<Over | null>(null),
  };
}
