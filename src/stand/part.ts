import { overlaps } from '../core/chart/edit-shape.ts';
import { takeOut } from '../core/chart/part.ts';
import type { Marks } from '../core/chart/types.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import type { Store } from '../store/types.ts';
import type { OpenChart } from './chart.ts';

/**
 * What was found without the lines that another chart of the same file has already; null when none is left. The
 * chart of the whole file keeps nothing from a part of it: all lines are its own at first.
 */
export async function withoutOthers(store: Store, chart: OpenChart, found: Marks): Promise<Marks | null> {
  const { document } = chart.state.peek();
  const others = (await store.cards()).filter(
    (card) =>
      card.document === document &&
      card.chart !== document &&
      card.chart !== chart.key &&
      !card.removed &&
      card.marks !== null,
  );
  const states = await Promise.all(others.map((card) => store.state(card.chart, new Date().toISOString())));
  const taken = states.flatMap((state) => state?.marks?.marks.systems ?? []);
  const lines = found.systems.filter((line) => taken.some((other) => overlaps(line, other)));
  const { rest } = takeOut(
    found,
    lines.map(({ id }) => id),
  );
  return rest.systems.length > 0 ? rest : null;
}

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
    window.document.documentElement.dataset['state'] = 'loading';
    location.reload();
  }
  return name;
}
