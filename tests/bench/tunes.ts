/** The tunes page with a shelf of years against the same page with a few tunes. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Page } from 'puppeteer-core';
import { saveBytes } from '../../src/core/log/save.ts';
import { launch, until, type Driver } from '../../src/cli/try-charts/driver.ts';
import { root, SAMPLE } from './extension.ts';
import { sleep } from './drive.ts';
import type { Bench } from './page/page.ts';
import { nameOf, shelfSave } from './shelf.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

const MANY = 2000;
const FEW = 20;
/** Openings of each page in turn; the first of each warms the browser's caches. */
const TURNS = 8;
const SEARCHES = 2;
/** Turns of a wheel, each of so many px, one a frame. */
const WHEELS = 60;
const WHEEL_PX = 120;

interface Measured {
  readonly paint: number;
  /** From a key in the search field to the frame that shows what is found, ms. */
  readonly search: readonly number[];
  /** Work of the page in a frame of scrolling, ms. */
  readonly scroll: readonly number[];
  readonly rows: number;
}

/** A browser with a full shelf; every chart is of the one sample, whose file is kept. */
async function withShelf(extension: string, count: number): Promise<Driver> {
  const driver = await launch('chromium', { extension, size: { width: 1280, height: 800 } });
  const page = await driver.openPage('bench/index.html');
  await page.waitForSelector('html[data-state="ready"]');
  const json = new TextDecoder().decode(saveBytes(shelfSave(count)));
  const { charts } = await page.evaluate(
    (save) => (globalThis as unknown as { bench: Bench }).bench.merge(save),
    json,
  );
  if (charts !== count) throw new Error(`only ${charts} charts were merged`);
  const pdf = readFileSync(resolve(root, 'sample-pdfs', SAMPLE)).toString('base64');
  await page.evaluate((file) => (globalThis as unknown as { bench: Bench }).bench.keep(file), pdf);
  await page.close();
  return driver;
}

/** Opens the page and waits until it has shown its list; resolves to the milliseconds from its navigation. */
async function shown(driver: Driver): Promise<{ page: Page; paint: number }> {
  const page = await driver.openPage('tunes/index.html');
  const paint = await until(
    () => page.evaluate(() => performance.getEntriesByName('tunes-shown')[0]?.startTime ?? 0),
    (ms) => ms > 0,
    'the list',
    30,
  );
  return { page, paint };
}

const script = readFileSync(resolve(import.meta.dirname, 'page/list.js'), 'utf8');
interface ListBench {
  search(texts: readonly string[]): Promise<number[]>;
  scroll(turns: number, px: number): Promise<number[]>;
}

async function measure(driver: Driver, names: readonly string[]): Promise<Measured> {
  const { page, paint } = await shown(driver);
  await sleep(500);
  await page.evaluate(script);
  const search = await page.evaluate(
    (texts) => (globalThis as unknown as { list: ListBench }).list.search(texts),
    names,
  );
  await sleep(300);
  const scroll = await page.evaluate(
    (turns, px) => (globalThis as unknown as { list: ListBench }).list.scroll(turns, px),
    WHEELS,
    WHEEL_PX,
  );
  const rows = await page.evaluate(() => document.querySelectorAll('li.tune').length);
  await page.close();
  return { paint, search, scroll, rows };
}

/** First paint, a key in the search field, and a frame of scrolling: 2,000 tunes against 20, in turn. */
export async function tunesRows(extension: string): Promise<Row[]> {
  const drivers = [await withShelf(extension, MANY), await withShelf(extension, FEW)] as const;
  try {
    const names = Array.from({ length: SEARCHES }, (_, i) => nameOf(7 * i + 3));
    const [many, few]: [Measured[], Measured[]] = [[], []];
    for (let turn = 0; turn < TURNS; turn++)
      for (const which of turn % 2 === 0 ? ([0, 1] as const) : ([1, 0] as const))
        [many, few][which]!.push(await measure(drivers[which], names));
    const row = (name: string, read: (each: Measured) => readonly number[], note: string): Row => {
      const [ofMany, ofFew] = [many.slice(1).flatMap(read), few.slice(1).flatMap(read)];
      return measured({
        name,
        figure: { value: quantile(ofMany, 0.5), unit: 'ms' },
        baseline: { name: `the same with ${FEW}`, value: quantile(ofFew, 0.5), unit: 'ms' },
        bound: { of: 'ratio', most: 1.5 },
        spread: [spreadOf(ofMany), spreadOf(ofFew)],
        note: `${note}, median of ${ofMany.length}; 95th percentile ${quantile(ofMany, 0.95).toFixed(1)} ms against ${quantile(ofFew, 0.95).toFixed(1)} ms`,
      });
    };
    const drawn = many.at(-1)!.rows;
    return [
      row(`tunes page of ${MANY}, first paint`, (each) => [each.paint], 'from its navigation'),
      row(`tunes page of ${MANY}, a key to what it finds`, (each) => each.search, 'to the frame after'),
      row(`tunes page of ${MANY}, a frame of scrolling`, (each) => each.scroll, `${drawn} rows drawn`),
    ];
  } finally {
    await Promise.all(drivers.map((driver) => driver.close()));
  }
}
