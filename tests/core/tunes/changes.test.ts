import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openStore } from '../../../src/store/index.ts';
import type { Store } from '../../../src/store/types.ts';
import { createChanges } from '../../../src/tunes/changes.ts';

let store: Store;
beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  store = await openStore();
});
afterEach(() => store.close());

const state = async () =>
  new Map(
    (await store.cards()).map(({ chart, name, words, archived, removed }) => [
      chart,
      { name, words, archived, removed },
    ]),
  );

test('everything that was done is taken back, the newest first', async () => {
  const changes = createChanges(store);
  await store.append('a', 's', [{ type: 'opened', document: 'a'.repeat(64), name: 'A' }]);
  await store.append('b', 's', [{ type: 'opened', document: 'b'.repeat(64), name: 'B' }]);
  const seen = [await state()];
  const make = async (...args: Parameters<typeof changes.make>) => {
    await changes.make(...args);
    seen.push(await state());
  };
  await make('renamed', [
    {
      chart: 'a',
      bodies: [
        { type: 'named', name: 'C' },
        { type: 'noted', words: 'x' },
      ],
    },
  ]);
  await make('archived', [{ chart: 'a', bodies: [{ type: 'archived', away: true }] }]);
  await make(
    'removed',
    ['a', 'b'].map((chart) => ({ chart, bodies: [{ type: 'removed' as const }] })),
  );
  expect([...(await state()).values()].every(({ removed }) => removed)).toBe(true);
  // Nothing to write is nothing to take back.
  await changes.make('nothing', [{ chart: 'a', bodies: [] }]);
  for (const text of ['removed', 'archived', 'renamed']) {
    expect(changes.last.value?.text).toBe(text);
    expect(await state()).toEqual(seen.pop());
    expect((await changes.undo())?.text).toBe(text);
  }
  expect(await state()).toEqual(seen.pop());
  expect([changes.last.value, await changes.undo()]).toEqual([null, null]);
  // Nothing was erased: the log holds what was done and that it was taken back.
  expect((await store.events('a')).map(({ type }) => type)).toEqual([
    'opened',
    'named',
    'noted',
    'archived',
    'removed',
    'undone',
    'undone',
    'undone',
    'undone',
  ]);
});
