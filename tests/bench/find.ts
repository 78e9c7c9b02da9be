/** Finding bars against drawing the same page with the same pdf.js; and a book found beside the player's page. */
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { Page } from 'puppeteer-core';
import { build } from 'vite';
import type { Bench } from './page/page.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import * as engraved from '../browser/drive/engraved.mjs';
// @ts-expect-error -- as above
import * as drive from '../browser/drive/index.mjs';
import { inBrowser, inChromium, type BrowserName } from './drive.ts';
import { root } from './extension.ts';
import { scanned } from './scan.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

interface PickedFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}
const { pdfFile } = engraved as {
  pdfFile: (name: string, pages: readonly { title: string; systems: number }[]) => Promise<PickedFile>;
};
const { choose } = drive as { choose: (page: Page, selector: string, file: PickedFile) => Promise<void> };

const ROUNDS = 15;
/** Rounds until the engine has compiled all that matters: from then on times stay. */
const WARMING = 25;
/** In a browser times fall for longer: engraved pages in Chromium until about the hundredth round. */
const WARMING_BROWSER = 150;
const ROUNDS_BROWSER = 41;
/** A new thread takes long to start. */
const COLD_ROUNDS = 5;
/** As the stand draws a page at first: a screen of usual density. */
const SCREEN_DPI = 144;
const SCAN_DPI = 200;
const PAGES = 60;

/** The finder minified as the extension's is, with the packages beside it: the address of the module. */
async function shipped(): Promise<string> {
  const outDir = resolve(root, 'node_modules/.cache/bench-finder');
  await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: { ssr: resolve(import.meta.dirname, 'finder.ts'), outDir, emptyOutDir: true, minify: true },
  });
  return pathToFileURL(join(outDir, 'finder.js')).href;
}

const WORKS = ['find', 'draw', 'read'] as const;
type Times = Record<(typeof WORKS)[number], number[]>;
type TimeOf = (work: keyof Times) => Promise<number>;

/** Each kind of work in turn, so many rounds of it, in ms. */
async function timesOf(rounds: number, timeOf: TimeOf): Promise<Times> {
  const times: Times = { find: [], draw: [], read: [] };
  for (let round = 0; round < rounds; round++) for (const work of WORKS) times[work].push(await timeOf(work));
  return times;
}

/** A thread in which pdf.js is loaded and nothing has run yet: it times the work that it is told to do. */
const THREAD = `
  const { workerData, parentPort } = require('node:worker_threads');
  const { module, bytes, dpi } = workerData;
  import(module).then(async (finder) => {
    await finder.load();
    parentPort.on('message', async (work) => {
      const began = performance.now();
      await finder[work](bytes, dpi);
      parentPort.postMessage(performance.now() - began);
    });
    parentPort.postMessage(0);
  });
`;

async function inThread<T>(workerData: object, work: (timed: TimeOf) => Promise<T>): Promise<T> {
  const thread = new Worker(THREAD, { eval: true, workerData });
  // Rejects when the thread fails.
  const answer = async () => ((await once(thread, 'message')) as [number])[0];
  try {
    await answer();
    return await work((what) => {
      const took = answer();
      thread.postMessage(what);
      return took;
    });
  } finally {
    await thread.terminate();
  }
}

/**
 * Finding a page and drawing it, from the file's bytes on, each in a thread of its own: the player's finder is in another
 * than what draws. First what each takes in a new one, as for the first page of a file; then once the engine has
 * compiled what runs.
 */
async function ratioOf(
  module: string,
  name: string,
  bytes: Uint8Array,
  dpi: number,
  most: number,
): Promise<Row> {
  const data = { module, bytes, dpi };
  const cold = await timesOf(COLD_ROUNDS, (work) => inThread(data, (timed) => timed(work)));
  const warm = await inThread(data, (find) =>
    inThread(data, (draw) =>
      inThread(data, async (read) => {
        const threads = { find, draw, read };
        const timed: TimeOf = (work) => threads[work](work);
        await timesOf(WARMING, timed);
        return timesOf(ROUNDS, timed);
      }),
    ),
  );
  const median = (times: readonly number[]) => quantile(times, 0.5);
  const ms = (times: Times, work: keyof Times) => `${median(times[work]).toFixed(0)} ms`;
  return measured({
    name,
    figure: { value: median(warm.find), unit: 'ms' },
    baseline: { name: `drawing it at ${dpi} dpi`, value: median(warm.draw), unit: 'ms' },
    bound: { of: 'ratio', most },
    spread: [spreadOf(warm.find), spreadOf(warm.draw)],
    note:
      `medians in Node from bytes on, with the build of pdf.js that runs there, after ${WARMING} rounds; its reading ` +
      `alone ${ms(warm, 'read')}, so the finding itself ${(median(warm.find) - median(warm.read)).toFixed(0)} ms; ` +
      `in a new thread finding ${ms(cold, 'find')}, drawing ${ms(cold, 'draw')}, reading ${ms(cold, 'read')}`,
  });
}

const NAMES: Readonly<Record<BrowserName, string>> = { chromium: 'Chromium', firefox: 'Firefox' };

/** The same in a browser, in the extension's own worker, once the engine has compiled what runs; the file is open. */
const browserRow = (
  browser: BrowserName,
  extension: string,
  name: string,
  bytes: Uint8Array,
  dpi: number,
  most: number,
): Promise<Row> =>
  inBrowser(browser, extension, async (driver) => {
    const page = await driver.openPage('bench/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    const taken = await page.evaluate(
      (...given) => (globalThis as unknown as { bench: Bench }).bench.find(...given),
      Buffer.from(bytes).toString('base64'),
      dpi,
      WARMING_BROWSER + ROUNDS_BROWSER,
    );
    if (taken.bars === 0) throw new Error('no bars were found');
    const [found, drawn] = [taken.found.slice(WARMING_BROWSER), taken.drawn.slice(WARMING_BROWSER)];
    return measured({
      name: `${name}, in ${NAMES[browser]}`,
      figure: { value: quantile(found, 0.5), unit: 'ms' },
      baseline: { name: `drawing it at ${dpi} dpi`, value: quantile(drawn, 0.5), unit: 'ms' },
      bound: { of: 'ratio', most },
      spread: [spreadOf(found), spreadOf(drawn)],
      note:
        `medians of ${ROUNDS_BROWSER} after ${WARMING_BROWSER}, the file open in both; the first time finding ` +
        `${taken.found[0]!.toFixed(0)} ms, drawing ${taken.drawn[0]!.toFixed(0)} ms`,
    });
  });

/** The longest task of the page's own thread while the rest of a book is found, Chromium. */
const bookRow = (extension: string): Promise<Row> =>
  inChromium(extension, async (driver) => {
    const pages = Array.from({ length: PAGES }, (_, i) => ({ title: `Tune ${i + 1}`, systems: 8 }));
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', await pdfFile('bench', pages));
    await page.waitForSelector('[data-phase="idle"]', { timeout: 120_000 });
    await page.waitForSelector('html[data-state="ready"]');
    await page.click('[data-command="marks"]');
    await page.waitForSelector('.stand-book');
    const began = performance.now();
    await page.evaluate(() => {
      const tasks: number[] = [];
      Object.assign(globalThis, { longTasks: tasks });
      new PerformanceObserver((list) => {
        for (const { duration } of list.getEntries()) tasks.push(duration);
      }).observe({ type: 'longtask' });
    });
    await page.waitForSelector('.stand-book', { hidden: true, timeout: 300_000 });
    const took = (performance.now() - began) / 1000;
    const tasks = await page.evaluate(() => (globalThis as unknown as { longTasks: number[] }).longTasks);
    // The browser reports tasks from 50 ms on: none means that all were shorter.
    return measured({
      name: `longest task while a book of ${PAGES} pages is found`,
      figure: { value: Math.max(0, ...tasks), unit: 'ms' },
      baseline: { name: 'a long task, as browsers report them', value: 50, unit: 'ms' },
      bound: { of: 'figure', most: 50 },
      note: `${tasks.length} tasks of 50 ms or more in the ${took.toFixed(0)} s that it took`,
    });
  });

const pathOf = (name: string) => resolve(root, 'sample-pdfs', name);
const sample = (name: string) => new Uint8Array(readFileSync(pathOf(name)));

type Case = readonly [name: string, bytes: Uint8Array, dpi: number, most: number];

const cases = (): Case[] => [
  ['finding on an engraved page', sample('aaba.pdf'), SCREEN_DPI, 0.5],
  ['finding on a clean scanned page', sample('scanned.pdf'), SCAN_DPI, 1],
  ['finding on a noisy scanned page', scanned(pathOf('aaba.pdf'), SCAN_DPI), SCAN_DPI, 1],
];

/** @param extension the folder of the built extension with the bench's page */
export async function findRows(extension: string): Promise<Row[]> {
  const module = await shipped();
  const rows: Row[] = [];
  for (const one of cases()) {
    rows.push(await ratioOf(module, ...one));
    for (const browser of ['chromium', 'firefox'] as const)
      rows.push(await browserRow(browser, extension, ...one));
  }
  return [...rows, await bookRow(extension)];
}
