/** Finding bars against drawing the same page with the same pdf.js; and a book found beside the player's page. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'puppeteer-core';
import { build } from 'vite';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import * as engraved from '../browser/drive/engraved.mjs';
// @ts-expect-error -- as above
import * as drive from '../browser/drive/index.mjs';
import { inChromium } from './drive.ts';
import { root } from './extension.ts';
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

const ROUNDS = 7;
/** As the stand draws a page at first: a screen of usual density. */
const SCREEN_DPI = 144;
const PAGES = 60;

type Finder = typeof import('./finder.ts');

/** The finder minified as the extension's is, with the packages beside it. */
async function shipped(): Promise<Finder> {
  const outDir = resolve(root, 'node_modules/.cache/bench-finder');
  await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: { ssr: resolve(import.meta.dirname, 'finder.ts'), outDir, emptyOutDir: true, minify: true },
  });
  return (await import(pathToFileURL(join(outDir, 'finder.js')).href)) as Finder;
}

/** Finding a page, its reading included, and drawing it, in turn; each with the file opened anew. */
async function ratioOf(
  { openInk, findOnPage, Names }: Finder,
  name: string,
  file: string,
  dpi: number,
  most: number,
): Promise<Row> {
  const bytes = readFileSync(resolve(root, 'sample-pdfs', file));
  const [finds, draws]: [number[], number[]] = [[], []];
  for (let round = 0; round <= ROUNDS; round++) {
    const time = async (work: (opened: Awaited<ReturnType<Finder['openInk']>>) => Promise<unknown>) => {
      const opened = await openInk(new Uint8Array(bytes));
      const began = performance.now();
      await work(opened);
      const took = performance.now() - began;
      await opened.destroy();
      return took;
    };
    const find = await time((opened) => findOnPage(opened, 0, new Names()));
    const draw = await time((opened) => opened.drawn(0, dpi));
    // The first round warms up.
    if (round === 0) continue;
    finds.push(find);
    draws.push(draw);
  }
  return measured({
    name,
    figure: { value: quantile(finds, 0.5), unit: 'ms' },
    baseline: { name: `drawing it at ${dpi} dpi`, value: quantile(draws, 0.5), unit: 'ms' },
    bound: { of: 'ratio', most },
    spread: [spreadOf(finds), spreadOf(draws)],
    note: 'medians in Node, with the build of pdf.js that runs there; reading the page is in both',
  });
}

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

async function ratioRows(): Promise<Row[]> {
  const finder = await shipped();
  return [
    await ratioOf(finder, 'finding on an engraved page', 'aaba.pdf', SCREEN_DPI, 0.5),
    await ratioOf(finder, 'finding on a scanned page', 'scanned.pdf', 200, 1),
  ];
}

/** @param extension the folder of the built extension */
export const findRows = async (extension: string): Promise<Row[]> => [
  ...(await ratioRows()),
  await bookRow(extension),
];
