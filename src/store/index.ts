import type { ChartKey } from '../core/log/events.ts';
import { cardOf, type Card } from '../core/log/card.ts';
import { at, FOLD_VERSION, type Folded } from '../core/log/fold.ts';
import { withoutJoined } from '../core/log/join.ts';
import { allOf, Connection, type Database } from './db.ts';
import { dropFiles, dropPassing, heldFiles, keepDocument, setPages } from './documents.ts';
import { foundBriefs, foundPage, keepFound } from './findings.ts';
import { mergeFile, saveFile } from './files.ts';
import { hashOf, sameIds } from './hash.ts';
import { claim, Notices } from './pages.ts';
import { keepPassword, passwordOf } from './passwords.ts';
import { parseSettings } from './settings.ts';
import type { Store } from './types.ts';
import { appendEvents, rebuild, stateIn, write, type Stamp } from './write.ts';

export { BadSave, NoStore, NotKept } from './errors.ts';
export { sha256 } from './sha256.ts';

/** The last event by sequence is in the snapshot: the cheap sign that nothing was written beside it. */
async function reaches(db: Database, state: Folded): Promise<boolean> {
  const index = db.transaction('events').store.index('chart');
  const cursor = await index.openKeyCursor(allOf(state.chart), 'prev');
  return cursor !== null && cursor.key[1] === state.inner.highest;
}

/** From the snapshot, or from the log where that is of another fold version or not up to date. */
async function stateOf(db: Database, chart: ChartKey): Promise<Folded | null> {
  const kept = stateIn(await db.get('snapshots', chart));
  return kept && (await reaches(db, kept)) ? kept : rebuild(db, chart);
}

/** Every card; one that is missing or of another fold version is made anew from the log. */
async function readCards(db: Database): Promise<Card[]> {
  const tx = db.transaction(['cards', 'snapshots']);
  const snapshots = tx.objectStore('snapshots');
  const [all, charts] = await Promise.all([tx.objectStore('cards').getAll(), snapshots.count()]);
  const current = all.filter(({ fold }) => fold === FOLD_VERSION);
  const cards = current.map(({ card }) => card);
  // Every card has its snapshot. To count them takes a moment, to read the keys of thousands longer than the cards.
  if (current.length === charts) return cards;
  const known = new Set(current.map(({ chart }) => chart));
  const anew = (await snapshots.getAllKeys()).filter((chart) => !known.has(chart));
  const states = await Promise.all(anew.map((chart) => rebuild(db, chart)));
  return [...cards, ...states.flatMap((state) => (state ? [cardOf(state)] : []))];
}

/** Whether the snapshot holds exactly the events of the log; reads every key, not for every opening. */
async function holdsAll(db: Database, chart: ChartKey): Promise<boolean> {
  const tx = db.transaction(['events', 'snapshots']);
  const [ids, snapshot] = await Promise.all([
    tx.objectStore('events').index('chart').getAllKeys(allOf(chart)),
    tx.objectStore('snapshots').get(chart),
  ]);
  return snapshot === undefined ? ids.length === 0 : sameIds(snapshot.ids, hashOf(ids));
}

/** A chart's whole log is compared with its snapshot once a page, when the opening is over. */
const CHECK_AFTER_MS = 3000;

/** Beside the settings, not among them: when a save was made is this machine's own. */
const SAVED_AT = 'saved-at';

const stampNow = (): Stamp => ({
  newId: () => crypto.randomUUID(),
  now: new Date().toISOString(),
  zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
});

/** Opens the database. Throws NoStore where there is none or an older page will not let go of it. */
export async function openStore(): Promise<Store> {
  const connection = new Connection();
  await connection.db();
  const notices = new Notices();
  const checked = new Set<ChartKey>();
  /** The sitting a page writes under, by chart and the sitting it asked for. */
  const sittings = new Map<string, string>();
  let persisted = false;

  const check = (chart: ChartKey) => {
    if (checked.has(chart)) return;
    checked.add(chart);
    setTimeout(() => {
      void connection
        .db()
        .then(async (db) => {
          if (await holdsAll(db, chart)) return;
          await rebuild(db, chart);
          notices.wrote([chart]);
        })
        // The page is closing, or there is no room: the next opening checks again.
        .catch(() => checked.delete(chart));
    }, CHECK_AFTER_MS);
  };

  /** A sitting that another one has followed, by a merge, is over: what comes next is a new one. */
  const sittingFor = (asked: string) => (state: Folded) => {
    const used = sittings.get(`${state.chart} ${asked}`);
    return used !== undefined && used !== state.last?.sitting ? crypto.randomUUID() : (used ?? asked);
  };

  return {
    keepDocument: async (file, label) => keepDocument(await connection.db(), file, label),
    document: async (hash) => (await (await connection.db()).get('documents', hash)) ?? null,
    bytes: async (hash) => (await (await connection.db()).get('files', hash)) ?? null,
    password: async (hash) => passwordOf(await connection.db(), hash),
    keepPassword: async (hash, password) => keepPassword(await connection.db(), hash, password),
    setPages: async (hash, pages) => setPages(await connection.db(), hash, pages),
    documents: async () => (await connection.db()).getAll('documents'),
    keepFound: async (hash, page) => keepFound(await connection.db(), hash, page),
    foundPage: async (hash, page) => foundPage(await connection.db(), hash, page),
    foundBriefs: async (hash) => foundBriefs(await connection.db(), hash),
    dropFiles: async (hashes) => dropFiles(await connection.db(), hashes),
    heldFiles: async () => heldFiles(await connection.db()),
    dropPassing: async (unwanted) => dropPassing(await connection.db(), unwanted),
    eventCount: async () => (await connection.db()).count('events'),

    async append(chart, sitting, bodies) {
      const db = await connection.db();
      const stamp = stampNow();
      const [appended] = await appendEvents(db, [{ chart, bodies }], sittingFor(sitting), stamp);
      const { state } = appended!;
      if (state.last) sittings.set(`${chart} ${sitting}`, state.last.sitting);
      notices.wrote([chart]);
      if (!persisted && bodies.some(({ type }) => type === 'pass')) {
        persisted = true;
        // From the first pass on there is something to lose. Refused is no failure: saves remain.
        void navigator.storage.persist().catch(() => false);
      }
      return at(state, stamp.now);
    },
    async appendAll(additions) {
      const sitting = crypto.randomUUID();
      const done = await appendEvents(await connection.db(), additions, () => sitting, stampNow());
      notices.wrote(additions.map(({ chart }) => chart));
      return done.map(({ events }) => events.map(({ id }) => id));
    },
    async state(chart, now) {
      const state = await stateOf(await connection.db(), chart);
      check(chart);
      return state && at(state, now);
    },
    events: async (chart) => (await connection.db()).getAllFromIndex('events', 'chart', allOf(chart)),
    event: async (id) => (await (await connection.db()).get('events', id)) ?? null,
    cards: async () => withoutJoined(await readCards(await connection.db())),
    claim,
    watch: (chart, signal, changed) => notices.watch(chart, signal, changed),
    settings: async () => parseSettings(await (await connection.db()).get('settings', 'settings')),
    setSettings: async (change) =>
      write(await connection.db(), ['settings'], async (tx) => {
        const store = tx.objectStore('settings');
        const next = parseSettings({ ...parseSettings(await store.get('settings')), ...change });
        await store.put(next, 'settings');
        return next;
      }),
    async save(options) {
      const file = await saveFile(await connection.db(), options);
      const now = new Date().toISOString();
      await write(await connection.db(), ['settings'], (tx) => tx.objectStore('settings').put(now, SAVED_AT));
      return file;
    },
    async savedAt() {
      const kept = await (await connection.db()).get('settings', SAVED_AT);
      return typeof kept === 'string' ? kept : null;
    },
    async merge(file) {
      const { added, charts, keys } = await mergeFile(await connection.db(), file);
      notices.wrote(keys);
      return { added, charts };
    },
    close() {
      notices.close();
      connection.close();
    },
  };
}
