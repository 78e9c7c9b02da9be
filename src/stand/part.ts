import type { Marks } from '../core/chart/types.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import type { Store } from '../store/types.ts';
import type { OpenChart } from './chart.ts';

/**
 * A new chart of the same file, which holds many: with these marks, or without, and then the stand turns to it.
 * @returns its name. Throws NotKept
 */
export async function newPart(
  store: Store,
  chart: OpenChart,
  marks: Marks | null,
  page: number,
): Promise<string> {
  const { document, name: whole } = chart.state.peek();
  const key = crypto.randomUUID();
  const name = t('stand_part_name', whole, page + 1);
  if (document === null) return name;
  await store.append(key, crypto.randomUUID(), [
    { type: 'opened', document, name },
    ...(marks ? [{ type: 'marks', parent: null, marks } as const] : []),
  ]);
  if (!marks) {
    location.href = pageUrl('stand', { chart: key, from: String(page) });
    // Only the fragment has changed: the page has to begin anew by itself.
    location.reload();
  }
  return name;
}
