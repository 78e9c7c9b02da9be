import 'fake-indexeddb/auto';
import { IDBFactory, IDBObjectStore } from 'fake-indexeddb';
import { unzipSync } from 'fflate';
import { readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { cardOf, type Card } from '../../../src/core/log/card.ts';
import type { PassBody } from '../../../src/core/log/events.ts';
import { fold, type Folded } from '../../../src/core/log/fold.ts';
import { openStore } from '../../../src/store/index.ts';
import type { Store } from '../../../src/store/types.ts';
import { planOf, rope } from '../log/make.ts';

let stores: Store[] = [];
async function open(): Promise<Store> {
  const store = await openStore();
  stores.push(store);
  return store;
}
const persist = vi.fn(() => Promise.resolve(true));
beforeEach(() => {
  vi.stubGlobal('navigator', { storage: { persist } });
  persist.mockClear();
  globalThis.indexedDB = new IDBFactory();
});
afterEach(() => {
  for (const store of stores) store.close();
  stores = [];
  vi.restoreAllMocks();
});

const now = () => new Date().toISOString();
const later = () => new Date(Date.now() + 3_600_000).toISOString();
const fixture = () => new Blob([readFileSync(join(import.meta.dirname, '../../fixtures/log/save-v1.json'))]);
const CHART = 'a'.repeat(64);

async function begun(store: Store, n = 9) {
  const state = await store.append('c', 's', [
    { type: 'plan', marks: 'm', plan: planOf(['b1', 'b2'], { streak: n }) },
  ]);
  const pass: PassBody = {
    type: 'pass',
    from: 0,
    to: 0,
    bpm: 60,
    plan: state.plan!.event,
    unit: 'quarter',
    seconds: 4,
    kind: 'drill',
    verdict: 'clean',
    by: 'key',
    slips: [],
  };
  return pass;
}
const inner = (state: unknown) => (state as Folded).inner;

describe('appending', () => {
  test('numbers events, chains them and keeps the state, which another page finds', async () => {
    const store = await open();
    const pass = await begun(store);
    const state = await store.append('c', 's', [pass, pass]);
    expect(rope(state)).toBe('TT');
    expect(persist).toHaveBeenCalledTimes(1);
    const events = await store.events('c');
    expect(events.map(({ seq, place, after }) => [seq, place, after])).toEqual([
      [0, 0, null],
      [1, 1, events[0]!.id],
      [2, 2, events[1]!.id],
    ]);
    const other = await open();
    expect(inner(await other.state('c', now()))).toEqual(inner(fold(events)));
    expect(await other.event(events[1]!.id)).toEqual(events[1]);
    expect(await other.state('unknown', now())).toBeNull();
  });

  test('two pages at once lose nothing', async () => {
    const [a, b] = [await open(), await open()];
    const pass = await begun(a, 99);
    await Promise.all(Array.from({ length: 30 }, (_, i) => (i % 2 ? a : b).append('c', 's', [pass])));
    const events = await a.events('c');
    expect(new Set(events.map(({ seq }) => seq)).size).toBe(31);
    expect(inner(await b.state('c', now()))).toEqual(inner(fold(events)));
    expect(rope((await b.state('c', now())) as Folded)).toBe('T'.repeat(30));
  });

  test('undo and redo', async () => {
    const store = await open();
    const pass = await begun(store);
    const one = await store.append('c', 's', [pass]);
    const two = await store.append('c', 's', [{ ...pass, verdict: 'slip' }]);
    const undone = await store.append('c', 's', [{ type: 'undone', event: two.undo!.event }]);
    expect([undone.knots, undone.undo]).toEqual([one.knots, one.undo]);
    const redone = await store.append('c', 's', [{ type: 'undone', event: undone.last!.id }]);
    expect(redone.knots).toEqual([]);
    expect(inner(redone)).toEqual(inner(fold(await store.events('c'))));
  });

  test('after a pause the knots are loose', async () => {
    const store = await open();
    await store.append('c', 's', [await begun(store)]);
    expect(rope((await store.state('c', later())) as Folded)).toBe('L');
    expect((await store.state('c', later()))?.cold).toBe(true);
  });

  test('a sitting that a merge has followed goes on as a new one', async () => {
    const store = await open();
    await store.merge(fixture());
    const plan = (await store.state(CHART, now()))!.plan!.event;
    const pass: PassBody = { ...(await begun(store)), plan, from: 0, to: 1 };
    await store.append(CHART, 'mine', [pass]);
    const [last] = (await store.events(CHART)).slice(-1);
    const stranger = { ...last!, id: 'stranger', sitting: 'other', seq: last!.seq + 1, place: 0 };
    await store.merge(
      new Blob([
        JSON.stringify({
          format: 'holdfast-save',
          version: 1,
          events: [stranger],
          documents: [],
          settings: {},
        }),
      ]),
    );
    const state = await store.append(CHART, 'mine', [pass]);
    expect(['mine', 'other', 's2']).not.toContain(state.last?.sitting);
    expect(inner(state)).toEqual(inner(fold(await store.events(CHART))));
  });
});

describe('the snapshot', () => {
  /** Written beside the write path, on purpose. */
  const BESIDE: IDBTransactionMode = 'readwrite';
  /** The database itself, as another release or a fault would write it. */
  const raw = (work: (db: IDBDatabase) => IDBTransaction) =>
    new Promise<void>((resolve, reject) => {
      const request = indexedDB.open('holdfast');
      request.onsuccess = () => {
        const tx = work(request.result);
        tx.oncomplete = () => {
          request.result.close();
          resolve();
        };
        tx.onerror = () => reject(new Error('raw'));
      };
    });

  test('of another fold version is rebuilt', async () => {
    const store = await open();
    await store.append('c', 's', [await begun(store)]);
    await raw((db) => {
      const tx = db.transaction('snapshots', BESIDE);
      const request = tx.objectStore('snapshots').get('c');
      request.onsuccess = () => {
        tx.objectStore('snapshots').put({ ...request.result, fold: -1, inner: { chart: 'c' } });
      };
      return tx;
    });
    expect(rope((await store.state('c', now())) as Folded)).toBe('T');
  });

  test('that lacks an event is rebuilt, at once or when the ids were compared', async () => {
    const store = await open();
    await store.append('c', 's', [await begun(store)]);
    const events = await store.events('c');
    const add = (change: object) =>
      raw((db) => {
        const tx = db.transaction('events', BESIDE);
        tx.objectStore('events').add({ ...events[1]!, ...change });
        return tx;
      });
    await add({ id: 'x', seq: 2, place: 2, after: events[1]!.id });
    expect(rope((await store.state('c', now())) as Folded)).toBe('TT');
    // Its sequence is no news, so only the comparison of all ids finds it.
    await add({
      id: 'y',
      sitting: 'apart',
      seq: 1,
      place: 0,
      after: null,
      kind: 'trial',
      at: '2020-01-01T00:00:00.000Z',
    });
    const page = await open();
    await page.state('c', now());
    await vi.waitFor(
      async () => expect((await page.state('c', now()))?.firstPassAt).toBe('2020-01-01T00:00:00.000Z'),
      { timeout: 8000, interval: 500 },
    );
  });
});

describe('documents and settings', () => {
  test('the same bytes under another name are the same document', async () => {
    const store = await open();
    const first = await store.keepDocument(new Blob(['%PDF']), { name: 'a.pdf' });
    const again = await store.keepDocument(new Blob(['%PDF']), { name: 'b.pdf', url: 'https://e.org/b.pdf' });
    // The hash as Node's own crypto has it.
    expect(first.hash).toBe(createHash('sha256').update('%PDF').digest('hex'));
    expect(again).toEqual({ ...first, names: ['a.pdf', 'b.pdf'], urls: ['https://e.org/b.pdf'] });
    await store.setPages(first.hash, [{ width: 595, height: 842 }]);
    expect((await store.document(first.hash))?.pages).toEqual([{ width: 595, height: 842 }]);
    expect((await store.bytes(first.hash))?.size).toBe(4);
  });

  test('settings change one by one', async () => {
    const store = await open();
    await store.setSettings({ theme: 'stage' });
    const settings = await store.setSettings({ volume: 0.1 });
    expect([settings.theme, settings.volume, settings.singleLetters]).toEqual(['stage', 0.1, true]);
    expect(await (await open()).settings()).toEqual(settings);
  });
});

describe('the shelf', () => {
  const shelf = async () => {
    const store = await open();
    const document = await store.keepDocument(new Blob(['%PDF']), { name: 'a.pdf' });
    await store.append(document.hash, 's', [{ type: 'opened', document: document.hash, name: 'a' }]);
    await store.append('c', 's', [await begun(store)]);
    return { store, hash: document.hash };
  };

  test('several charts are written at once, or none', async () => {
    const { store, hash } = await shelf();
    const before = await store.cards();
    await expect(
      store.appendAll([
        { chart: hash, bodies: [{ type: 'archived', away: true }] },
        // No clone of a function can be kept.
        { chart: 'c', bodies: [{ type: 'noted', words: (() => '') as never }] },
      ]),
    ).rejects.toMatchObject({ name: 'NotKept' });
    expect(await store.cards()).toEqual(before);
    const ids = await store.appendAll([
      { chart: hash, bodies: [{ type: 'archived', away: true }] },
      {
        chart: 'c',
        bodies: [
          { type: 'noted', words: 'gig' },
          { type: 'named', name: 'C' },
        ],
      },
    ]);
    expect(ids.map((each) => each.length)).toEqual([1, 2]);
    const cards = new Map((await store.cards()).map((card) => [card.chart, card]));
    expect([cards.get(hash)?.archived, cards.get('c')?.words, cards.get('c')?.name]).toEqual([
      true,
      'gig',
      'C',
    ]);
    await store.appendAll([{ chart: hash, bodies: [{ type: 'undone', event: ids[0]![0]! }] }]);
    expect((await store.cards()).find(({ chart }) => chart === hash)?.archived).toBe(false);
  });

  test('a card is what the log folds to, however it was come by', async () => {
    const { store } = await shelf();
    const cards = await store.cards();
    const folded = await Promise.all(cards.map(async ({ chart }) => cardOf(fold(await store.events(chart)))));
    expect(cards).toEqual(folded);
    const save = await store.save({ pdfs: false });
    globalThis.indexedDB = new IDBFactory();
    const fresh = await open();
    await fresh.merge(save);
    const byKey = (list: readonly Card[]) => list.toSorted((a, b) => (a.chart < b.chart ? -1 : 1));
    expect(byKey(await fresh.cards())).toEqual(byKey(cards));
  });

  test('a database of the release before has its cards made from the log', async () => {
    // Version 1 of the database, as its release made it, with one chart in it.
    const events = JSON.parse(await fixture().text()).events as { id: string }[];
    await new Promise<void>((done) => {
      const request = indexedDB.open('holdfast', 1);
      request.onupgradeneeded = () => {
        const db = request.result;
        db.createObjectStore('events', { keyPath: 'id' }).createIndex('chart', ['chart', 'seq']);
        db.createObjectStore('snapshots', { keyPath: 'chart' }).put({ chart: CHART, fold: 1, inner: {} });
        db.createObjectStore('documents', { keyPath: 'hash' });
        db.createObjectStore('files');
        db.createObjectStore('settings');
        for (const event of events) request.transaction!.objectStore('events').put(event);
      };
      request.onsuccess = () => {
        request.result.close();
        done();
      };
    });
    const store = await open();
    const [card, ...others] = await store.cards();
    expect(others).toEqual([]);
    expect([card?.chart, card?.bars, card?.step]).toEqual([
      CHART,
      4,
      { bpm: 60, kind: 'chain', first: 1, last: 2, alone: false },
    ]);
    expect(await store.cards()).toEqual([card]);
  });

  test('the copy of a file is dropped, marks and history stay; the same file comes back', async () => {
    const { store, hash } = await shelf();
    await store.dropFiles([hash, 'unknown']);
    expect([await store.bytes(hash), (await store.document(hash))?.kept]).toEqual([null, false]);
    expect((await store.cards()).some(({ chart, removed }) => chart === hash && !removed)).toBe(true);
    await store.keepDocument(new Blob(['%PDF']), { name: 'b.pdf' });
    expect([(await store.bytes(hash))?.size, (await store.document(hash))?.kept]).toEqual([4, true]);
    expect([(await store.documents()).length, await store.eventCount()]).toEqual([1, 3]);
  });

  test('without copies the bytes lie there until they are dropped, and no word says that they are kept', async () => {
    const { store, hash } = await shelf();
    await store.setSettings({ keepCopies: false });
    const passing = await store.keepDocument(new Blob(['%PDF-2']), { name: 'c.pdf' });
    const ours = await store.keepDocument(new Blob(['%PDF-3']), { name: 'd.pdf', always: true });
    expect([passing.kept, ours.kept]).toEqual([false, true]);
    // What was kept before stays kept, also when it is opened again.
    expect((await store.keepDocument(new Blob(['%PDF']), { name: 'a.pdf' })).kept).toBe(true);
    expect((await store.bytes(passing.hash))?.size).toBe(6);
    const inside = unzipSync(new Uint8Array(await (await store.save({ pdfs: true })).arrayBuffer()));
    const files = Object.keys(inside).filter((path) => path.startsWith('files/'));
    expect(files.sort()).toEqual([`files/${hash}.pdf`, `files/${ours.hash}.pdf`].sort());
    // Taken with others it waits for the stand, which has had it once its pages are known.
    await store.dropPassing();
    expect(await store.heldFiles()).toEqual(new Set([hash, passing.hash, ours.hash]));
    await store.setPages(passing.hash, [{ width: 595, height: 842 }]);
    await store.dropPassing();
    expect(await Promise.all([passing, ours].map((each) => store.bytes(each.hash)))).toEqual([
      null,
      expect.anything(),
    ]);
    expect((await store.bytes(hash))?.size).toBe(4);
    await store.keepDocument(new Blob(['%PDF-2']), { name: 'c.pdf' });
    await store.setSettings({ keepCopies: true });
    // What still lies there is a copy now.
    await store.dropPassing();
    expect((await store.document(passing.hash))?.kept).toBe(true);
  });

  test('a save brings its PDFs where copies are wanted, and where none are its marks and history alone', async () => {
    const { store, hash } = await shelf();
    const save = await store.save({ pdfs: true });
    for (const keepCopies of [false, true]) {
      globalThis.indexedDB = new IDBFactory();
      const other = await open();
      await other.setSettings({ keepCopies });
      await other.merge(save);
      expect([(await other.heldFiles()).has(hash), (await other.document(hash))?.kept]).toEqual([
        keepCopies,
        keepCopies,
      ]);
      expect((await other.cards()).length).toBe((await store.cards()).length);
    }
  });

  test('a file that is kept while those without a copy are dropped stays kept', async () => {
    const { store } = await shelf();
    // Which of the two comes first is chance: it is tried often.
    for (let i = 0; i < 20; i++) {
      const pdf = () => new Blob([`%PDF-${i + 10}`]);
      await store.setSettings({ keepCopies: false });
      const { hash } = await store.keepDocument(pdf(), { name: 'c.pdf' });
      await store.setSettings({ keepCopies: true });
      await Promise.all([store.dropPassing(), store.keepDocument(pdf(), { name: 'c.pdf' })]);
      expect([(await store.bytes(hash))?.size, (await store.document(hash))?.kept]).toEqual([7, true]);
    }
  });

  test('it is known when a save was made, on this machine only', async () => {
    const { store } = await shelf();
    expect(await store.savedAt()).toBeNull();
    const from = now();
    const save = await store.save({ pdfs: false });
    const at = await store.savedAt();
    expect(at! >= from && at! <= now()).toBe(true);
    globalThis.indexedDB = new IDBFactory();
    const fresh = await open();
    await fresh.merge(save);
    expect(await fresh.savedAt()).toBeNull();
  });
});

describe('saving and merging', () => {
  test.each([false, true])('a new machine has everything, nothing twice (with PDFs: %s)', async (pdfs) => {
    const old = await open();
    const { hash } = await old.keepDocument(new Blob(['%PDF']), { name: 'a.pdf' });
    await old.append(hash, 's', [{ type: 'opened', document: hash, name: 'a' }]);
    await old.append('c', 's', [await begun(old)]);
    await old.setSettings({ theme: 'day' });
    const save = await old.save({ pdfs });
    const [events, state] = [await old.events('c'), await old.state('c', now())];

    globalThis.indexedDB = new IDBFactory();
    const fresh = await open();
    expect(await fresh.merge(save)).toEqual({ added: 3, charts: 2 });
    expect(await fresh.merge(save)).toEqual({ added: 0, charts: 2 });
    expect(await fresh.events('c')).toEqual(events);
    expect(inner(await fresh.state('c', now()))).toEqual(inner(state));
    expect((await fresh.settings()).theme).toBe('day');
    expect((await fresh.document(hash))?.kept).toBe(pdfs);
    expect((await fresh.bytes(hash))?.size).toBe(pdfs ? 4 : undefined);
  });

  test('a damaged save changes nothing', async () => {
    const store = await open();
    const save = JSON.parse(await fixture().text());
    save.events.at(-1).seq = 'last';
    await expect(store.merge(new Blob([JSON.stringify(save)]))).rejects.toMatchObject({ name: 'BadSave' });
    expect(await store.cards()).toEqual([]);
  });

  test('a removed chart stays removed when an old save comes back', async () => {
    const store = await open();
    await store.append('c', 's', [await begun(store)]);
    const save = await store.save({ pdfs: false });
    await store.append('c', 's', [{ type: 'removed' }]);
    await store.merge(save);
    expect((await store.cards()).map(({ removed }) => removed)).toEqual([true]);
  });
});

describe('when it cannot be kept', () => {
  test('a full disk is NotKept, and nothing has changed', async () => {
    const store = await open();
    const pass = await begun(store);
    await store.append('c', 's', [pass]);
    const before = await store.events('c');
    const put = Reflect.get<IDBObjectStore, 'put'>(IDBObjectStore.prototype, 'put');
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (
      this: IDBObjectStore,
      value: any,
      key?: any,
    ) {
      if (this.name === 'snapshots') throw new DOMException('no room', 'QuotaExceededError');
      return put.call(this, value, key);
    } as never);
    await expect(store.append('c', 's', [pass])).rejects.toMatchObject({ name: 'NotKept', full: true });
    vi.restoreAllMocks();
    expect(await store.events('c')).toEqual(before);
    const state = await store.append('c', 's', [pass]);
    expect([rope(state), state.last?.sitting]).toEqual(['TT', 's']);
  });

  test('no IndexedDB is NoStore', async () => {
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('private', 'SecurityError');
    });
    await expect(openStore()).rejects.toMatchObject({ name: 'NoStore', blocked: false });
  });
});

describe('several pages', () => {
  test('one hears of what another wrote', async () => {
    const [a, b] = [await open(), await open()];
    const changed = vi.fn();
    const leaving = new AbortController();
    b.watch('c', leaving.signal, changed);
    await begun(a);
    await vi.waitFor(() => expect(changed).toHaveBeenCalledTimes(1));
    leaving.abort();
    await begun(a);
    await new Promise((done) => setTimeout(done, 50));
    expect(changed).toHaveBeenCalledTimes(1);
  });

  test('a newer page is let in', async () => {
    const store = await open();
    await begun(store);
    const opened = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open('holdfast', 4);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(new Error('blocked'));
    });
    expect(opened.version).toBe(4);
    opened.close();
  });
});
