/** The first page on the stand against a bare pdf.js viewer: a file just chosen, and a chart that is kept. */
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import type { Page } from 'puppeteer-core';
import { openOnStand } from '../../src/cli/try-charts/open.ts';
import { until, type Driver } from './drive.ts';
import { root, SAMPLE } from './extension.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

interface Tried {
  readonly firstPageMs?: number | null;
  readonly bareMs?: number | null;
}

/** A file just chosen on the tunes page, as `try-charts` measures it. */
export async function chosenRow(): Promise<Row> {
  // The command builds into its own folder, whatever this run was told.
  const env = { ...process.env };
  delete env.HOLDFAST_DIST;
  const child = spawn(
    process.execPath,
    [resolve(root, 'src/cli/run.mjs'), 'try-charts', resolve(root, 'sample-pdfs', SAMPLE)],
    { cwd: root, env, stdio: ['ignore', 'pipe', 'inherit'] },
  );
  let out = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  await new Promise((done) => child.once('close', done));
  const { firstPageMs, bareMs } = JSON.parse(out.trim() || '{}') as Tried;
  return measured({
    name: 'first page of a file just chosen',
    figure: { value: firstPageMs ?? NaN, unit: 'ms' },
    baseline: { name: 'a bare pdf.js viewer', value: bareMs ?? NaN, unit: 'ms' },
    bound: { of: 'ratio', most: 1.1 },
    note: `${SAMPLE}, medians`,
  });
}

/** Openings of each in turn; the first of each warms the browser's caches. */
const TURNS = 11;

/** Milliseconds from the page's navigation to the first frame after the drawing. */
async function timeOf(page: Page): Promise<number> {
  const read = () => page.evaluate(() => performance.getEntriesByName('first-page')[0]?.startTime ?? 0);
  const ms = await until(read, (value) => value > 0, 'the first page', 30);
  await page.close();
  return ms;
}

/** A chart that is kept, from the navigation to the stand; the bare viewer fetches the file from the extension. */
export async function keptRow(driver: Driver): Promise<Row> {
  const page = await driver.openPage('tunes/index.html');
  const { like } = await openOnStand(page, resolve(root, 'sample-pdfs', SAMPLE));
  if (!like) throw new Error('the sample did not open');
  const path = await until(
    () => page.evaluate(() => location.pathname.slice(1) + location.hash),
    (now) => now.includes('chart='),
    'the chart is kept',
    10,
  );
  await page.close();
  const own: number[] = [];
  const bare: number[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    own.push(await timeOf(await driver.openPage(path)));
    bare.push(await timeOf(await driver.openPage(`bare/index.html#${[...like, SAMPLE].join(',')}`)));
  }
  const [ofOwn, ofBare] = [own.slice(1), bare.slice(1)];
  return measured({
    name: 'first page of a kept chart',
    figure: { value: quantile(ofOwn, 0.5), unit: 'ms' },
    baseline: { name: 'a bare pdf.js viewer', value: quantile(ofBare, 0.5), unit: 'ms' },
    bound: { of: 'ratio', most: 1.1 },
    spread: [spreadOf(ofOwn), spreadOf(ofBare)],
    note: `${SAMPLE}, from the page's navigation, medians of ${ofOwn.length}`,
  });
}
