import { readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { degrees, PDFDocument } from 'pdf-lib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { iou } from '../../src/core/chart/place.ts';
import { briefly, choose, press, readStand, sample, shows, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';

/** A sample whose pages lie on their side, turned clockwise so far. */
async function lying(name, folder, turn) {
  const pdf = await PDFDocument.load(readFileSync(sample(`${name}.pdf`)));
  for (const page of pdf.getPages()) page.setRotation(degrees(turn));
  const bytes = await pdf.save();
  const path = join(folder, `${name} lying ${turn}.pdf`);
  writeFileSync(path, bytes);
  return { path, hash: createHash('sha256').update(bytes).digest('hex') };
}

/** The stand has taken the tunes page's place and is ready. */
async function onStand(page, mode) {
  await until(
    () => page.evaluate(() => document.querySelector('#stand')?.dataset.mode ?? null),
    (now) => now === mode,
    `the stand, ${mode}`,
  );
  await shows(page, { state: 'ready' });
}

const boxesOf = ({ systems }) =>
  systems.flatMap(({ page, top, bottom, bars }) =>
    bars.map(({ x0, x1 }) => ({ page, box: [x0, top, x1, bottom] })),
  );

describe.each(briefly('chromium'))('a scan that lies on its side, in %s', (name) => {
  let driver;
  const folder = mkdtempSync(join(tmpdir(), 'lying-'));
  beforeAll(async () => {
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterAll(async () => {
    await driver.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const barsOf = (page) => page.evaluate(() => document.querySelector('#stand')?.dataset.bars ?? null);
  const railOf = (page) => page.$eval('.stand-rail', (rail) => rail.textContent);
  const isUpright = (page) =>
    page.$eval('.pdfViewer .page', (sheet) => {
      const { width, height } = sheet.getBoundingClientRect();
      return height > width;
    });
  const wanted = boxesOf(JSON.parse(readFileSync(sample('scanned.marks.json'), 'utf8')));
  const lastMarks = async (page, hash) =>
    (await readLog(page, hash)).filter(({ type }) => type === 'marks').at(-1).marks;
  const openLying = async (turn) => {
    const { path, hash } = await lying('scanned', folder, turn);
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', path);
    await onStand(page, 'drill');
    expect(await barsOf(page)).toBe(String(wanted.length));
    expect(await isUpright(page)).toBe(true);
    expect(await railOf(page)).toContain('lay on their side');
    const marks = await lastMarks(page, hash);
    for (const [i, { box }] of boxesOf(marks).entries())
      expect(iou(box, wanted[i].box), `bar ${i}`).toBeGreaterThan(0.75);
    return { page, hash, turn: marks.turn };
  };

  test('it is turned, its bars are found, and it lies right the next time', async () => {
    const { page, turn } = await openLying(270);
    expect(turn).toBe(90);
    // Now that it lies right the drill begins at once, and the light falls on the bar.
    await until(
      () => readStand(page),
      ({ phase }) => phase === 'idle',
      'the drill',
    );
    await page.close();
    const tunes = await driver.openPage('tunes/index.html');
    await tunes.waitForSelector('li.tune img');
    await tunes.click('li.tune a.tune-body');
    await shows(tunes, { state: 'ready', phase: 'idle' });
    expect(await isUpright(tunes)).toBe(true);
    await tunes.close();
  });

  test('the other way round it is turned the other way; a key turns it on, and then it stays as the player has it', async () => {
    const { page, hash, turn } = await openLying(90);
    expect(turn).toBe(270);
    await press(page, 'marks');
    await press(page, 'marks-turn');
    await until(
      async () => [await isUpright(page), await barsOf(page)].join(),
      (now) => now === 'false,0',
      'it lies on its side again',
    );
    await shows(page, { state: 'ready' });
    expect((await lastMarks(page, hash)).turn).toBeUndefined();
    await page.close();
  });

  test('pages with bars of the player are not turned, and the line says what to do', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', sample('first.pdf'));
    await onStand(page, 'drill');
    await page.keyboard.press('KeyM');
    await page.waitForSelector('.marks-bar');
    await page.click('.marks-bar');
    await page.keyboard.press('KeyT');
    await page.keyboard.down('Alt');
    await page.keyboard.press('KeyR');
    await page.keyboard.up('Alt');
    await until(
      () => page.$eval('.stand-line', (line) => line.textContent).catch(() => ''),
      (line) => line.includes('would not turn'),
      'the line',
    );
    expect(await page.$eval('#stand', ({ dataset }) => dataset.bars)).not.toBe('0');
    await page.close();
  });
});
