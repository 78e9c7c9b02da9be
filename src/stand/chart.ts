import { signal, type ReadonlySignal } from '@preact/signals';
import type { ChartKey, EventBody } from '../core/log/events.ts';
import { inNewSitting } from '../core/log/fold.ts';
import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import type { Store } from '../store/types.ts';
import { CannotOpen } from './problems.ts';

/** A chart as this page holds it: its state follows every commit, here or on another stand. */
export interface OpenChart {
  readonly key: ChartKey;
  readonly state: ReadonlySignal<ChartState>;
  /** False while another stand writes this chart. */
  readonly writing: ReadonlySignal<boolean>;
  readonly bytes: Blob;
  append(bodies: readonly EventBody[]): Promise<ChartState>;
  /** Reads the chart again as it is now: a pause has loosened its knots. */
  readonly refresh: () => Promise<ChartState>;
}

const nowIso = () => new Date().toISOString();

/**
 * Opens a chart for one sitting: this page's life.
 * @throws CannotOpen when the chart or its bytes are not kept here
 */
export async function openChart(store: Store, key: ChartKey, signal_: AbortSignal): Promise<OpenChart> {
  const first = await store.state(key, nowIso());
  if (!first || first.removed) throw new CannotOpen(t('stand_unknown_chart'));
  const bytes = first.document === null ? null : await store.bytes(first.document);
  if (!bytes) throw new CannotOpen(t('stand_no_bytes'));
  // A new sitting drops knots nobody ever vouched for; the log says so with its first event, the screen at once.
  const state = signal<ChartState>(inNewSitting(first));
  let written = false;
  const writing = signal(false);
  const sitting = crypto.randomUUID();
  const refresh = async () => {
    const now = await store.state(key, nowIso());
    if (now) state.value = written ? now : inNewSitting(now);
    return state.value;
  };
  await new Promise<void>((resolve) => {
    store.claim(key, signal_, (mine) => {
      // What the other stand wrote last is read before this one may write.
      void refresh().then(() => {
        writing.value = mine;
        resolve();
      });
    });
  });
  store.watch(key, signal_, () => void refresh());
  document.addEventListener('visibilitychange', () => void refresh(), { signal: signal_ });
  return {
    key,
    state,
    writing,
    bytes,
    async append(bodies) {
      const next = await store.append(key, sitting, bodies);
      written = true;
      state.value = next;
      return next;
    },
    refresh,
  };
}
