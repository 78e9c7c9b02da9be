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

/** A sample on pages that lie turned clockwise so far, one after the other. */
async function lying(name, folder, turns) {
  const source = await PDFDocument.load(readFileSync(sample(`${name}.pdf`)));
  const pdf = await PDFDocument.create();
  for (const turn of turns) {
    const [page] = await pdf.copyPages(source, [0]);
    page.setRotation(degrees(turn));
    pdf.addPage(page);
  }
  const bytes = await pdf.save();
  const path = join(folder, `${name} lying ${turns.join(' ')}.pdf`);
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
  const areUpright = (page) =>
    page.$$eval('.pdfViewer .page', (sheets) =>
      sheets.map((sheet) => {
        const { width, height } = sheet.getBoundingClientRect();
        return height > width;
      }),
    );
  const wanted = boxesOf(JSON.parse(readFileSync(sample('scanned.marks.json'), 'utf8')));
  const lastMarks = async (page, hash) =>
    (await readLog(page, hash)).filter(({ type }) => type === 'marks').at(-1).marks;
  const openLying = async (...turns) => {
    const { path, hash } = await lying('scanned', folder, turns);
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', path);
    await onStand(page, 'drill');
    expect(await barsOf(page)).toBe(String(turns.length * wanted.length));
    expect(await areUpright(page)).toEqual(turns.map(() => true));
    expect(await railOf(page)).toContain('lay on their side');
    const marks = await lastMarks(page, hash);
    for (const [i, { box }] of boxesOf(marks).entries())
      expect(iou(box, wanted[i % wanted.length].box), `bar ${i}`).toBeGreaterThan(0.75);
    return { page, hash, marks };
  };

  test('it is turned, its bars are found, and it lies right the next time', async () => {
    const { page, marks } = await openLying(270);
    expect(marks.turns).toEqual({ 0: 90 });
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
    expect(await areUpright(tunes)).toEqual([true]);
    await tunes.close();
  });

  test('one page among upright ones is turned alone, the other way round; a key turns it on, and its bars alone are gone', async () => {
    const { page, hash, marks } = await openLying(0, 90);
    expect(marks.turns).toEqual({ 1: 270 });
    await press(page, 'marks');
    await page.$$eval('.page', (pages) => pages[1].scrollIntoView({ behavior: 'instant' }));
    await press(page, 'marks-turn');
    await until(
      async () => JSON.stringify([await areUpright(page).catch(() => null), await barsOf(page)]),
      (now) => now === JSON.stringify([[true, false], String(wanted.length)]),
      'it lies on its side again',
    );
    await shows(page, { state: 'ready' });
    expect(await page.$eval('.stand-line', (line) => line.textContent)).toContain('Page 2 is turned.');
    const after = await lastMarks(page, hash);
    expect(after.turns).toBeUndefined();
    expect(after.systems).toEqual(marks.systems.filter((line) => line.page === 0));
    // A quarter further its music stands upside down: it is found there, and the first page is as it was.
    for (const at of [90, 180, 270]) {
      await press(page, 'marks-turn');
      await until(
        () => lastMarks(page, hash),
        ({ turns, systems }) => turns?.[1] === at && (at === 180 || systems.some((line) => line.page === 1)),
        `it is turned by ${at}`,
      );
      await shows(page, { state: 'ready' });
    }
    const round = await lastMarks(page, hash);
    expect(boxesOf(round)).toEqual(boxesOf(marks));
    expect(round.systems[0]).toEqual(marks.systems[0]);
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
