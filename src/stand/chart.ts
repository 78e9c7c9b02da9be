import { signal, type ReadonlySignal } from '@preact/signals';
import type { ChartKey } from '../core/log/events.ts';
import { inNewSitting, type Folded } from '../core/log/fold.ts';
import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import type { Store } from '../store/types.ts';
import type { Append } from './keep.ts';
import { CannotOpen } from './problems.ts';

/** A chart as this page holds it: its state follows every commit, here or on another stand. */
export interface OpenChart {
  readonly key: ChartKey;
  readonly state: ReadonlySignal<ChartState>;
  /** False while another stand writes this chart. */
  readonly writing: ReadonlySignal<boolean>;
  readonly append: Append;
  /** Reads the chart again as it is now: a pause has loosened its knots. */
  readonly refresh: () => Promise<ChartState>;
}

const nowIso = () => new Date().toISOString();

/** The kept bytes of a chart's document. @throws CannotOpen when they are not kept here */
export async function bytesOf(store: Store, { document }: ChartState): Promise<Blob> {
  const bytes = document === null ? null : await store.bytes(document);
  if (!bytes) throw new CannotOpen(t('stand_no_bytes'));
  return bytes;
}

/** Where a chart stands. @throws CannotOpen when it is not kept here */
export async function knownChart(store: Store, key: ChartKey): Promise<Folded> {
  const state = await store.state(key, nowIso());
  if (!state || state.removed) throw new CannotOpen(t('stand_unknown_chart'));
  return state;
}

/** Opens a chart that stands at `first` for one sitting: this page's life. */
export async function openChart(store: Store, first: Folded, signal_: AbortSignal): Promise<OpenChart> {
  const key = first.chart;
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
    async append(bodies) {
      const next = await store.append(key, sitting, bodies);
      written = true;
      state.value = next;
      return next;
    },
    refresh,
  };
}
