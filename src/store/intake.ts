import { chartName } from '../core/chart/naming.ts';
import type { ChartKey } from '../core/log/events.ts';
import type { Store } from './types.ts';

/**
 * A PDF enters: its bytes are kept, and a chart that is new (or was removed) enters the shelf. The same
 * bytes under another name or address are the same chart. Resolves to the chart's key after the commit.
 */
export async function takeIn(
  store: Store,
  file: Blob,
  label: { readonly name: string; readonly url?: string },
): Promise<ChartKey> {
  const { hash } = await store.keepDocument(file, label);
  const state = await store.state(hash, new Date().toISOString());
  if (state === null || state.removed)
    await store.append(hash, crypto.randomUUID(), [
      { type: 'opened', document: hash, name: state?.name || chartName(label.name) },
    ]);
  return hash;
}
