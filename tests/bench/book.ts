/** A book of 300 pages and a scan at 600 dpi: time and memory to the first page, against a bare pdf.js viewer. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'puppeteer-core';
import { forget, openBare, openOnStand } from '../../src/cli/try-charts/open.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import { corpus } from '../files/corpus.mjs';
import { launch, type Driver } from '../../src/cli/try-charts/driver.ts';
import { watchMemory } from './memory.ts';
import { sleep } from './drive.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

const cases = corpus as readonly { readonly name: string; make(): Buffer }[];
const names = ['book of 300 pages', 'colour 600 dpi 104 MB'];

/** Openings in turn, the one first and then the other. */
const PAIRS = 7;
/** Openings in a browser of their own each, whose memory is watched: that takes time, so it is not timed. */
const WATCHED = 3;

type Like = readonly [width: number, height: number, scale: number];

const browse = (extension: string) =>
  launch('chromium', { extension, size: { width: 1440, height: 900 } }) as Promise<
    Driver & { readonly browser: Browser }
  >;

async function onStand(driver: Driver, file: string) {
  const page = await driver.openPage('tunes/index.html');
  // The stand is read ahead as soon as the list has been shown.
  await sleep(700);
  const { ms, like, message } = await openOnStand(page, file);
  if (ms === null || like === null) throw new Error(message ?? 'the file did not open');
  const shown = await page.evaluate(
    () => performance.timeOrigin + performance.getEntriesByName('first-page')[0]!.startTime,
  );
  await page.close();
  return { ms, like, shown };
}

async function bare(driver: Driver, file: string, like: Like): Promise<number> {
  const page = await driver.openPage(`bare/index.html#${like.join(',')}`);
  await sleep(700);
  const ms = await openBare(page, file);
  await forget(page);
  await page.close();
  return ms;
}

async function timeRow(extension: string, name: string, file: string): Promise<{ row: Row; like: Like }> {
  const driver = await browse(extension);
  try {
    let { like } = await onStand(driver, file);
    await bare(driver, file, like);
    const own: number[] = [];
    const others: number[] = [];
    for (let pair = 0; pair < PAIRS; pair++) {
      if (pair % 2 === 1) others.push(await bare(driver, file, like));
      const opened = await onStand(driver, file);
      own.push(opened.ms);
      like = opened.like;
      if (pair % 2 === 0) others.push(await bare(driver, file, like));
    }
    const row = measured({
      name: `first page: ${name}`,
      figure: { value: quantile(own, 0.5), unit: 'ms' },
      baseline: { name: 'a bare pdf.js viewer', value: quantile(others, 0.5), unit: 'ms' },
      bound: { of: 'ratio', most: 1.1 },
      spread: [spreadOf(own), spreadOf(others)],
      note: `medians of ${PAIRS}, in turn`,
    });
    return { row, like };
  } finally {
    await driver.close();
  }
}

/** What a fresh browser holds at most while `work` lasts. */
async function watched<T>(extension: string, work: (driver: Driver) => Promise<T>) {
  const driver = await browse(extension);
  const samples = watchMemory(driver.browser.process()!.pid!);
  try {
    const result = await work(driver);
    return { result, samples };
  } finally {
    samples.stop();
    await driver.close();
  }
}

async function memoryRows(extension: string, name: string, file: string, like: Like): Promise<Row[]> {
  const [toPage, whole, others]: [number[], number[], number[]] = [[], [], []];
  for (let turn = 0; turn < WATCHED; turn++) {
    const own = await watched(extension, (driver) => onStand(driver, file));
    toPage.push(own.samples.most(own.result.shown));
    whole.push(own.samples.most());
    const other = await watched(extension, (driver) => bare(driver, file, like));
    others.push(other.samples.most());
  }
  const row = (what: string, values: readonly number[], note: string) =>
    measured({
      name: `${what}: ${name}`,
      figure: { value: quantile(values, 0.5), unit: 'MB' },
      baseline: { name: 'a bare pdf.js viewer', value: quantile(others, 0.5), unit: 'MB' },
      bound: { of: 'ratio', most: 1.25 },
      spread: [spreadOf(values), spreadOf(others)],
      note: `${note}; all processes of the browser, medians of ${WATCHED}`,
    });
  return [
    row('memory to the first page', toPage, 'the most held until it is shown'),
    row(
      'memory with the bars found',
      whole,
      'until it is kept and read for its bars, which a viewer never does',
    ),
  ];
}

export async function bookRows(extension: string): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-book-'));
  try {
    const rows: Row[] = [];
    for (const name of names) {
      const file = join(folder, `${name}.pdf`);
      writeFileSync(file, cases.find((each) => each.name === name)!.make());
      const { row, like } = await timeRow(extension, name, file);
      rows.push(row, ...(await memoryRows(extension, name, file, like)));
    }
    return rows;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
