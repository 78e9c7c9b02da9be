/** Charts that hold the same lines of one file are offered for joining, one pair at a time. */
import type { Marks } from '../core/chart/types.ts';
import type { Card } from '../core/log/card.ts';
import { holdsSameLines, joining, leftApart, mayBeJoined, type Joinable } from '../core/log/join.ts';
import { t } from '../host/i18n.ts';
import type { Addition, Store } from '../store/types.ts';
import type { Shelf } from './shelf.ts';

const now = () => new Date().toISOString();

/** Marks by their event: the list is read anew at every change, marks hardly ever change. */
const known = new Map<string, Marks>();

async function marksOf({ chart, marks: event }: Card, store: Store): Promise<Marks | null> {
  if (event === null) return null;
  const held = known.get(event);
  if (held) return held;
  const marks = (await store.state(chart, now()))?.marks?.marks ?? null;
  if (marks) known.set(event, marks);
  return marks;
}

/** The first two charts that could be joined; null for none, and as soon as `signal` aborts. */
export async function joinableOf(
  cards: readonly Card[],
  store: Store,
  signal: AbortSignal,
): Promise<Joinable | null> {
  for (const each of mayBeJoined(cards)) {
    if (signal.aborted) return null;
    if (each.again) return each;
    const [stays, goes] = await Promise.all([marksOf(each.stays, store), marksOf(each.goes, store)]);
    if (stays && goes && holdsSameLines(stays, goes)) return each;
  }
  return null;
}

async function additions({ stays, goes }: Joinable, store: Store): Promise<Addition[]> {
  const [into, from] = await Promise.all([store.state(stays.chart, now()), store.state(goes.chart, now())]);
  if (!into || !from) return [];
  const bodies = joining(into, from);
  return [
    { chart: stays.chart, bodies: bodies.stays },
    { chart: goes.chart, bodies: bodies.goes },
  ];
}

/** One of the two stays and counts the other, which is seen no more; as one change. */
export const join = (shelf: Shelf, joinable: Joinable): Promise<void> => {
  const { stays, goes, again } = joinable;
  const text = again ? t('tunes_join_again_done', stays.name) : t('tunes_joined', goes.name, stays.name);
  return shelf.make(text, () => additions(joinable, shelf.store));
};

/** They stay as they are, and are not asked about again. */
export const leave = (shelf: Shelf, joinable: Joinable): Promise<void> =>
  shelf.make(t('tunes_join_left', joinable.goes.name, joinable.stays.name), [
    { chart: joinable.stays.chart, bodies: [leftApart(joinable)] },
  ]);
