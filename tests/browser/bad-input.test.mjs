import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { putOnStand } from './drive/charts.mjs';
import { briefly, choose, linesOf, press, readStand, sample, shows, start, until } from './drive/index.mjs';

const whole = readFileSync(sample('first.pdf'));
const files = [
  ['a text that calls itself a PDF', { name: 'notes.pdf', bytes: 'Meet at eight.', type: 'application/pdf' }],
  ['an empty file', { name: 'empty.pdf', bytes: '', type: 'application/pdf' }],
  ['a header with nothing behind it', { name: 'header.pdf', bytes: '%PDF-1.7\n', type: 'application/pdf' }],
  [
    'half a PDF of zeros',
    { name: 'zeros.pdf', bytes: Buffer.concat([whole.subarray(0, 64), Buffer.alloc(5000)]) },
  ],
  ['JSON that is no save', { name: 'other.json', bytes: '{"format": "other"}', type: 'application/json' }],
  [
    'a save with a damaged event',
    {
      name: 'bad.json',
      bytes: '{"format":"holdfast-save","version":1,"events":[{}],"documents":[],"settings":{}}',
    },
  ],
];

describe.each(briefly('chromium'))('bad input in %s', (name) => {
  let driver, kept;
  beforeAll(async () => {
    driver = await start(name);
    const { page, path } = await putOnStand(driver, 'first', { start: 240, goal: 240, streak: 3 });
    await press(page, 'begin');
    await shows(page, { loose: 1 });
    await press(page, 'clean');
    await shows(page, { tight: 1 });
    await press(page, 'pause');
    kept = path;
    await page.close();
  });
  afterAll(() => driver.close());

  test.each(files)('%s: one line that names it, and nothing is lost', async (_, file) => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', file);
    const lines = await until(
      () => linesOf(page),
      (now) => now.length > 0,
      'a line is shown',
    );
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(file.name.replace(/\.pdf$/, ''));
    expect(lines[0].length).toBeLessThan(200);
    await page.close();

    const stand = await driver.openPage(kept);
    await shows(stand, { state: 'ready', tight: 1, span: '1' });
    expect((await readStand(stand)).warnings).toEqual([]);
    await stand.close();
  });

  test('a chart that is not there', async () => {
    const page = await driver.openPage(`stand/index.html#chart=${'0'.repeat(64)}`);
    const { warnings } = await shows(page, { state: 'failed' });
    expect(warnings).toHaveLength(1);
    await page.close();
  });
});
