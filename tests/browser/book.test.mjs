import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { briefly, choose, press, sample, shows, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';
import { hashOf } from './drive/charts.mjs';
import { sheetOf } from '../sheet.ts';

/** The two pages stand for a book: one tune a page. */
describe.each(briefly('chromium'))('one chart out of a book in %s', (name) => {
  let driver;
  // Each with a shelf of its own: what one has parted the other must not know.
  beforeEach(async () => {
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterEach(() => driver.close());

  const marksOf = async (page, chart) =>
    (await readLog(page, chart)).filter(({ type }) => type === 'marks').at(-1)?.marks;
  const pagesOf = ({ systems }) => [...new Set(systems.map(({ page }) => page))];
  const open = async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', sample('two-pages.pdf'));
    await until(
      () => page.evaluate(() => document.querySelector('#stand')?.dataset.mode ?? null),
      (mode) => mode === 'drill',
      'the whole file on the stand',
    );
    await shows(page, { state: 'ready' });
    await press(page, 'marks');
    await page.waitForSelector('.marks-sheet');
    return page;
  };

  test('lines are made a tune of their own, and no bar of one is lit in the other', async () => {
    const page = await open();
    const whole = await marksOf(page, hashOf('two-pages'));
    const second = whole.systems.filter((system) => system.page === 1);
    const bar = (system, at) => `[data-bar="${system.bars.at(at).id}"]`;
    await page.$eval(bar(second[0], 0), (box) =>
      box.scrollIntoView({ block: 'center', behavior: 'instant' }),
    );
    await page.click(bar(second[0], 0));
    await page.$eval(bar(second.at(-1), -1), (box) =>
      box.scrollIntoView({ block: 'center', behavior: 'instant' }),
    );
    await page.keyboard.down('Shift');
    await page.click(bar(second.at(-1), -1));
    await page.keyboard.up('Shift');
    await press(page, 'marks-part');
    await until(
      () => marksOf(page, hashOf('two-pages')),
      (marks) => pagesOf(marks).join() === '0',
      'the first chart keeps its own page',
    );
    // Looking again leaves those lines to the tune that has them now.
    await press(page, 'marks-find');
    await until(
      () => page.$eval('.marks-changes h2', (line) => line.textContent).catch(() => ''),
      (line) => line.includes(': 0 bars new, 0 gone'),
      'nothing is found twice',
    );
    // Nor are they taken back, as the other chart has them now.
    const said = (on) => on.$eval('.stand-line', (line) => line.textContent).catch(() => '');
    await press(page, 'marks-undo');
    await press(page, 'marks-undo');
    await until(
      () => said(page),
      (line) => line.includes('belongs to'),
      'the line says whose they are',
    );
    const log = await readLog(page, hashOf('two-pages'));
    expect(pagesOf(log.filter(({ type }) => type === 'marks').at(-1).marks)).toEqual([0]);
    const { plan } = log.filter(({ type }) => type === 'plan').at(-1);
    expect([...new Set(plan.bars.flatMap(({ boxes }) => boxes.map((box) => box.page)))]).toEqual([0]);
    await page.close();

    const tunes = await driver.openPage('tunes/index.html');
    await tunes.waitForSelector('li.tune:nth-child(2)');
    const names = await tunes.$$eval('li.tune', (rows) => rows.map((row) => row.textContent));
    const at = names.findIndex((text) => text.includes('Long Passage Home, page 2'));
    await tunes.click(`li.tune:nth-child(${at + 1}) a.tune-body`);
    await shows(tunes, { state: 'ready' });
    const [bars, part] = await tunes.evaluate(() => [
      document.querySelector('#stand').dataset.bars,
      new URLSearchParams(location.hash.slice(1)).get('chart'),
    ]);
    await press(tunes, 'marks');
    await press(tunes, 'marks-find');
    await until(
      () => tunes.$eval('.marks-changes h2', (line) => line.textContent).catch(() => ''),
      (line) => line.includes(': 0 bars new, 0 gone'),
      'the part finds its own lines alone',
    );
    // Drawn over a line of the other chart nothing comes to be.
    const [line] = whole.systems;
    await tunes.$$eval('.page', (pages) => pages[0].scrollIntoView({ behavior: 'instant' }));
    const sheet = await tunes.$eval('.page', (one) => {
      const { left, top, width, height } = one.getBoundingClientRect();
      return { left, top, width, height };
    });
    const to = (x, y) => [sheet.left + x * sheet.width, sheet.top + y * sheet.height];
    await tunes.mouse.move(...to(0.3, line.top));
    await tunes.mouse.down();
    await tunes.mouse.move(...to(0.5, (line.top + line.bottom) / 2));
    await tunes.mouse.move(...to(0.7, line.bottom));
    await tunes.mouse.up();
    await until(
      () => said(tunes),
      (text) => text.includes('belongs to'),
      'the line says whose it is',
    );
    expect(await tunes.$eval('#stand', ({ dataset }) => dataset.bars)).toBe(bars);
    expect(pagesOf(await marksOf(tunes, part))).toEqual([1]);
    await tunes.close();
  });

  test('another tune of the file is found from the page in view on, and is not the first one', async () => {
    const page = await open();
    await page.$$eval('.page', (pages) => pages[1].scrollIntoView({ behavior: 'instant' }));
    await press(page, 'marks-another');
    await until(
      () =>
        page
          .evaluate(() => [location.hash, document.documentElement.dataset.state].join(' '))
          // The page may be on its way to the new chart.
          .catch(() => ''),
      (now) => now.includes('from=1') && now.endsWith('ready'),
      'the stand has turned to the new chart',
    );
    const chart = await page.evaluate(() => new URLSearchParams(location.hash.slice(1)).get('chart'));
    expect(chart).not.toBe(hashOf('two-pages'));
    const marks = await until(
      () => marksOf(page, chart),
      (found) => found !== undefined,
      'its bars are found',
    );
    expect(pagesOf(marks)).toEqual([1]);
    await until(
      () => marksOf(page, hashOf('two-pages')),
      (whole) => pagesOf(whole).join() === '0',
      'the chart of the whole file gives those lines up',
    );
    await page.close();
  });

  test('two tunes on one sheet: the first is the chart, the other is one press away', async () => {
    const bytes = await sheetOf('first', 'waltz');
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', { name: 'sheet.pdf', bytes, type: 'application/pdf' });
    await shows(page, { state: 'ready', phase: 'idle' });
    expect(await page.title()).toBe('Slack Water');
    expect(await page.$eval('#stand', ({ dataset }) => dataset.bars)).toBe('8');
    await press(page, 'marks');
    await press(page, 'marks-another');
    await page.waitForSelector('.stand-tunes li:nth-child(2) button');
    await page.click('.stand-tunes li:nth-child(2) button');
    await until(
      () => page.title().catch(() => ''),
      (title) => title === 'Ropewalk Waltz',
      'the stand turns to the waltz',
    );
    await shows(page, { state: 'ready', phase: 'idle' });
    expect(await page.$eval('#stand', ({ dataset }) => dataset.bars)).toBe('17');
    await page.close();
  });
});
