import { signal, type ReadonlySignal } from '@preact/signals';
import type { ChartKey, EventId } from '../core/log/events.ts';
import type { Addition, Store } from '../store/types.ts';

/** Something that was done to one or more charts, and can be taken back. */
export interface Change {
  /** What the player reads about it. */
  readonly text: string;
  /** By chart, as they were written. */
  readonly events: readonly { readonly chart: ChartKey; readonly ids: readonly EventId[] }[];
}

/** What was done since the page was opened, taken back step by step. */
export interface Changes {
  /** The newest that has not been taken back; its line stands on the page. */
  readonly last: ReadonlySignal<Change | null>;
  /** Writes it; nothing to write is no change. Throws NotKept. */
  make(text: string, additions: readonly Addition[]): Promise<void>;
  /** Takes the newest back; resolves to it, null when there is none. Throws NotKept. */
  undo(): Promise<Change | null>;
}

export function createChanges(store: Store): Changes {
  const past = signal<readonly Change[]>([]);
  const last = signal<Change | null>(null);
  const keep = (changes: readonly Change[]) => {
    past.value = changes;
    last.value = changes.at(-1) ?? null;
  };
  return {
    last,
    async make(text, additions) {
      const wanted = additions.filter(({ bodies }) => bodies.length > 0);
      if (wanted.length === 0) return;
      const ids = await store.appendAll(wanted);
      const events = wanted.map(({ chart }, i) => ({ chart, ids: ids[i] ?? [] }));
      keep([...past.value, { text, events }]);
    },
    async undo() {
      const change = past.value.at(-1);
      if (!change) return null;
      await store.appendAll(
        change.events.map(({ chart, ids }) => ({
          chart,
          // The newest first, as a player would take them back one by one.
          bodies: ids.toReversed().map((event) => ({ type: 'undone', event })),
        })),
      );
      keep(past.value.slice(0, -1));
      return change;
    },
  };
}
