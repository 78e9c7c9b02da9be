/**
 * The one write path. Every transaction is strict (on the disk before it is shown) and either all of it
 * is kept or nothing. Inside a transaction only its own requests are awaited: anything else would let it
 * commit early.
 */
import type { IDBPTransaction, StoreNames } from 'idb';
import { cardOf } from '../core/log/card.ts';
import type { ChartKey, EventId, LogEvent } from '../core/log/events.ts';
import { emptyState, fold, FOLD_VERSION, follows, resume, step, type Folded } from '../core/log/fold.ts';
import { mergeEvents, smaller } from '../core/log/merge.ts';
import { allOf, type Database, type Schema, type Snapshot } from './db.ts';
import { NotKept } from './errors.ts';
import { hashOf, withId, type IdsHash } from './hash.ts';
import type { Addition } from './types.ts';

type Stores = StoreNames<Schema>[];
type Writing<S extends Stores> = IDBPTransaction<Schema, S, 'readwrite'>;

function asNotKept(error: unknown): unknown {
  if (!(error instanceof DOMException)) return error;
  return new NotKept(error.name === 'QuotaExceededError', error);
}

/**
 * The first transaction after a full disk is, in Firefox, one that may only delete (`IDBDatabase::Transaction`, its
 * mode "cleanup"). It is spent here on nothing, so that the player's next try is a write again.
 */
function spendCleanup(db: Database, stores: Stores): void {
  try {
    const tx = db.transaction(stores, 'readwrite', { durability: 'strict' });
    void handled(tx.done);
    tx.abort();
  } catch {
    // The connection has ended: the next one starts anew.
  }
}

/** What is awaited later: if something else fails first, its own failure is no news. */
function handled<T>(request: Promise<T>): Promise<T> {
  request.catch(() => undefined);
  return request;
}

/** Runs `work` in a strict transaction; resolves after the commit. Throws NotKept, nothing being changed. */
export async function write<S extends Stores, T>(
  db: Database,
  stores: S,
  work: (tx: Writing<S>) => Promise<T>,
): Promise<T> {
  let tx: Writing<S>;
  try {
    tx = db.transaction(stores, 'readwrite', { durability: 'strict' });
  } catch (error) {
    throw asNotKept(error);
  }
  void handled(tx.done);
  try {
    const result = await work(tx);
    await tx.done;
    return result;
  } catch (error) {
    // The request that failed may only say "aborted"; the transaction knows why.
    const why: unknown = tx.error ?? error;
    try {
      tx.abort();
    } catch {
      // It has ended already.
    }
    await tx.done.catch(() => undefined);
    const notKept = asNotKept(tx.error ?? why);
    if (notKept instanceof NotKept && notKept.full) spendCleanup(db, stores);
    throw notKept;
  }
}

/** Plans by their event: one object a plan, so that its ladder is worked out once. */
const plans = new Map<EventId, Folded['plan']>();

/** The state kept in a snapshot; null for none or one of another fold version. */
export function stateIn(snapshot: Snapshot | undefined): Folded | null {
  if (snapshot?.fold !== FOLD_VERSION) return null;
  const { plan } = snapshot.inner;
  if (!plan) return resume(snapshot.inner);
  const known = plans.get(plan.event) ?? plan;
  plans.set(plan.event, known);
  return resume({ ...snapshot.inner, plan: known });
}

const LOG = ['events', 'snapshots', 'cards'] as const;
type LogTransaction = Writing<(typeof LOG)[number][]>;

/** Keeps where a chart stands: the snapshot, and its card. */
function putState(tx: LogTransaction, state: Folded, ids: IdsHash): Promise<unknown>[] {
  const { chart, inner } = state;
  return [
    handled(tx.objectStore('snapshots').put({ chart, fold: FOLD_VERSION, ids, inner })),
    handled(tx.objectStore('cards').put({ chart, fold: FOLD_VERSION, card: cardOf(state) })),
  ];
}

/**
 * Folds a chart's whole log within a transaction and keeps the snapshot; null when there is no log.
 * `known`: the log, where the caller has it already.
 */
async function refold(
  tx: LogTransaction,
  chart: ChartKey,
  known?: readonly LogEvent[],
): Promise<Folded | null> {
  const events = known ?? (await tx.objectStore('events').index('chart').getAll(allOf(chart)));
  if (events.length === 0) return null;
  const state = fold(events);
  await Promise.all(putState(tx, state, hashOf(events.map(({ id }) => id))));
  return state;
}

/** What the writer brings: core has no clock and no randomness. */
export interface Stamp {
  readonly newId: () => string;
  readonly now: string;
  readonly zone: string;
}

/** Where the chart stands then, and the events as they were written. */
export interface Appended {
  readonly state: Folded;
  readonly events: readonly LogEvent[];
}

/** Appends events to the logs of charts, each once, and moves their snapshots on, in one transaction. */
export function appendEvents(
  db: Database,
  additions: readonly Addition[],
  sittingFor: (state: Folded) => string,
  stamp: Stamp,
): Promise<Appended[]> {
  return write(db, [...LOG], async (tx) => {
    const done: Appended[] = [];
    for (const addition of additions) done.push(await appendTo(tx, addition, sittingFor, stamp));
    return done;
  });
}

async function appendTo(
  tx: LogTransaction,
  { chart, bodies }: Addition,
  sittingFor: (state: Folded) => string,
  stamp: Stamp,
): Promise<Appended> {
  const snapshot = await tx.objectStore('snapshots').get(chart);
  const kept = stateIn(snapshot);
  let state = kept ?? (await refold(tx, chart)) ?? emptyState(chart);
  let ids = kept && snapshot ? snapshot.ids : null;
  const sitting = sittingFor(state);
  const { last, inner } = state;
  const base = { v: 1, chart, sitting, at: stamp.now, zone: stamp.zone } as const;
  let place = last?.sitting === sitting ? last.place + 1 : 0;
  let seq = inner.highest + 1;
  let after = inner.tip;
  const events: LogEvent[] = bodies.map((body) => {
    const event: LogEvent = { ...body, ...base, id: stamp.newId(), place: place++, seq: seq++, after };
    after = event.id;
    return event;
  });
  const puts: Promise<unknown>[] = events.map((event) => handled(tx.objectStore('events').add(event)));
  let inStep = ids !== null || inner.highest < 0;
  ids ??= hashOf([]);
  for (const event of events) {
    inStep &&= follows(state, event);
    if (!inStep) break;
    state = step(state, event);
    ids = withId(ids, event.id);
  }
  if (inStep) puts.push(...putState(tx, state, ids));
  await Promise.all(puts);
  return { state: inStep ? state : ((await refold(tx, chart)) ?? state), events };
}

/** Folds a chart anew; null when there is no log. */
export const rebuild = (db: Database, chart: ChartKey): Promise<Folded | null> =>
  write(db, [...LOG], (tx) => refold(tx, chart));

/**
 * The union of the log with other events, within a transaction. Resolves to how many were new. Requests are
 * not awaited one by one: that alone would take seconds for a long log.
 */
export async function putEvents(
  tx: Writing<((typeof LOG)[number] | 'documents' | 'files' | 'settings')[]>,
  events: readonly LogEvent[],
): Promise<number> {
  const store = tx.objectStore('events');
  const incoming = mergeEvents(events);
  const ids = new Set(await store.getAllKeys());
  const known = await Promise.all(incoming.map(async ({ id }) => (ids.has(id) ? store.get(id) : undefined)));
  const touched = new Set<ChartKey>();
  const puts: Promise<unknown>[] = [];
  let added = 0;
  for (const [i, event] of incoming.entries()) {
    const held = known[i];
    const winner = held ? smaller(held, event) : event;
    if (winner === held) continue;
    if (held) touched.add(held.chart);
    else added++;
    touched.add(event.chart);
    puts.push(handled(store.put(winner)));
  }
  await Promise.all(puts);
  for (const chart of touched) {
    // On a new machine what came is all there is.
    const all = ids.size === 0 ? incoming.filter((event) => event.chart === chart) : undefined;
    const state = await refold(tx as unknown as LogTransaction, chart, all);
    if (state) continue;
    await Promise.all([tx.objectStore('snapshots').delete(chart), tx.objectStore('cards').delete(chart)]);
  }
  return added;
}
