import { chartName } from '../core/chart/naming.ts';
import type { ChartKey } from '../core/log/events.ts';
import { goesInto, livesIn } from '../core/log/join.ts';
import type { FileLabel, Store } from './types.ts';

/** A larger file is not read, bytes: it is held in memory more than once on its way to the page. */
export const LARGEST_FILE = 512 * 2 ** 20;

const now = () => new Date().toISOString();

/** The chart that a chart lives on in: it may have been joined into another of the same lines. */
async function homeOf(store: Store, chart: ChartKey): Promise<ChartKey> {
  const into = new Map<ChartKey, ChartKey>();
  for (let at = chart; !into.has(at);) {
    const state = await store.state(at, now());
    const next = state && goesInto(state);
    if (!next || !(await store.state(next, now()))) break;
    into.set(at, next);
    at = next;
  }
  return livesIn(chart, (each) => into.get(each) ?? null);
}

/**
 * A PDF enters: its bytes are kept, and a chart that is new (or was removed) enters the shelf. The same
 * bytes under another name or address are the same chart. Resolves to the chart's key after the commit.
 */
export async function takeIn(store: Store, file: Blob, label: FileLabel): Promise<ChartKey> {
  const { hash } = await store.keepDocument(file, label);
  const chart = await homeOf(store, hash);
  const state = await store.state(chart, now());
  if (state === null || state.removed)
    await store.append(chart, crypto.randomUUID(), [
      { type: 'opened', document: hash, name: state?.name || chartName(label.name) },
    ]);
  return chart;
}
