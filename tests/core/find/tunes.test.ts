import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { titleOf, wholeChart } from '../../../src/core/find/chart/index.ts';
import { tunesOf, wholeFile } from '../../../src/core/find/chart/tunes.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { briefOf, tunesOn } from '../../../src/core/find/tunes.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { columnsOf, sheetOf, sheetsOf } from '../../sheet.ts';

const sample = (name: string) =>
  readFileSync(resolve(import.meta.dirname, `../../../sample-pdfs/${name}.pdf`));

async function found(bytes: Uint8Array): Promise<FoundPage[]> {
  const file = await openInk(bytes);
  const pages = [];
  for (let i = 0; i < file.pages; i++) pages.push(findInInk(await file.ink(i), i));
  await file.destroy();
  return pages;
}

it('tells the tunes on one sheet apart by title, meter and the end of the tune before', async () => {
  const pages = await found(await sheetOf('first', 'waltz', 'first'));
  const tunes = tunesOf(pages);
  expect(tunes.map((tune) => titleOf(tune)?.text)).toEqual(['Slack Water', 'Ropewalk Waltz', 'Slack Water']);
  const bars = tunes.map((tune) => tune.flatMap(({ systems }) => systems.flatMap((system) => system.bars)));
  // The waltz has a pickup.
  expect(bars.map(({ length }) => length)).toEqual([8, 17, 8]);
  // A pickup is no bar of the list's count.
  expect(tunesOn(pages.map(briefOf)).map((tune) => tune.bars)).toEqual([8, 16, 8]);
  // Every sign still points at its own bar.
  for (const [t, tune] of tunes.entries())
    for (const { kind, bar, box } of tune[0]!.signs)
      if (kind === 'meter') expect(box).toEqual(bars[t]![bar]!.box);
});

it('tells the tunes of two columns apart, each under its own title', async () => {
  const pages = await found(await columnsOf(['waltz', 'first'], ['first', 'waltz']));
  const tunes = tunesOf(pages);
  const names = ['Ropewalk Waltz', 'Slack Water', 'Slack Water', 'Ropewalk Waltz'];
  expect(tunes.map((tune) => titleOf(tune)?.text)).toEqual(names);
  // A title says over which bar it stands, and no route goes on from one column's foot to the other's head.
  expect(pages[0]!.signs.flatMap(({ kind, bar }) => (kind === 'title' ? [bar] : []))).toEqual([
    0, 17, 25, 33,
  ]);
  expect(tunes.map((tune) => wholeChart(tune).route.length)).toEqual([16, 8, 8, 16]);
});

it('gives the tunes of two columns their own titles, not that of the page', async () => {
  const title = 'Tunes for the Long Evenings of Winter';
  const pages = await found(await columnsOf(['waltz', 'first'], ['first', 'waltz'], title));
  const names = ['Ropewalk Waltz', 'Slack Water', 'Slack Water', 'Ropewalk Waltz'];
  expect(tunesOf(pages).map((tune) => titleOf(tune)?.text)).toEqual(names);
});

it('gives each tune a route of its own, and no bar is a twin of one in another tune', async () => {
  const { route, twins } = wholeFile(await found(await sheetOf('first', 'first')));
  expect(route).toEqual(Array.from({ length: 16 }, (_, i) => i));
  for (const group of twins) expect(new Set(group.map((bar) => Math.floor(bar / 8))).size).toBe(1);
});

it.each(['first', 'aaba', 'endings', 'waltz', 'two-pages'])('%s is one tune', async (name) => {
  expect(tunesOf(await found(new Uint8Array(sample(name))))).toHaveLength(1);
});

it('gives every tune its pickup, wherever on a sheet or in a book it begins', async () => {
  const pages = await found(await sheetsOf([['first', 'waltz', 'waltz'], ['waltz', 'first'], ['first']]));
  const tunes = tunesOf(pages);
  expect(tunes.map((tune) => titleOf(tune)?.text)).toEqual([
    'Slack Water',
    ...Array<string>(3).fill('Ropewalk Waltz'),
    'Slack Water',
    'Slack Water',
  ]);
  const pickups = tunes.map((tune) => wholeChart(tune).marks.systems.map(({ bars }) => bars[0]!.pickup ?? 0));
  const waltz = [1, 0, 0, 0];
  expect(pickups).toEqual([[0, 0], waltz, waltz, waltz, [0, 0], [0, 0]]);
});

it('takes no bar for a pickup that a line goes on with at the head of a page', async () => {
  const [page] = await found(await sheetOf('waltz'));
  const next = { ...page!, page: 1, signs: page!.signs.map((sign) => ({ ...sign, page: 1 })) };
  const { pages, marks } = wholeChart([page!, next]);
  const at = (index: number) => pages[index]!.signs.filter(({ kind }) => kind === 'pickup');
  expect([at(0).length, at(1).length]).toEqual([1, 0]);
  expect(marks.systems.flatMap(({ bars }) => bars.filter(({ pickup }) => pickup !== undefined))).toHaveLength(
    1,
  );
});
