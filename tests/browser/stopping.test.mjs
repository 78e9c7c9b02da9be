/** What takes long tells how far it is and can be stopped; what hangs is given up, and the rest goes on. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hanging } from '../files/corpus.mjs';
import {
  addressOf,
  briefly,
  browsers,
  choose,
  linesOf,
  named,
  pageThat,
  sample,
  start,
  until,
} from './drive/index.mjs';
import { openSources } from './drive/sources.mjs';
import { lineOf, openTunes, typeAddress } from './drive/tunes.mjs';

const fetchingText = (page) => page.$eval('.line.fetching p', ({ textContent }) => textContent);
const namesOf = (page) => page.$$eval('li.tune', (rows) => rows.map(({ textContent }) => textContent).join());

describe.each(browsers)('stopping a fetch, %s', (name) => {
  let driver, site;
  beforeAll(async () => {
    [driver, site] = await Promise.all([start(name), openSources()]);
    await driver.grantHost(site.patterns[0]);
  });
  afterAll(async () => {
    await driver.close();
    await site.close();
  });

  test.each([
    ['its button', (page) => page.click('[data-command="stop-fetching"]')],
    ['Escape', (page) => page.keyboard.press('Escape')],
  ])('by %s: it tells how far it is, then nothing is kept and the site is let go', async (_, stop) => {
    const page = await typeAddress(driver, `${site.address}/endless/waltz.pdf`);
    const first = await until(
      () => fetchingText(page),
      (text) => /\d %/.test(text),
      'it tells how far it is',
    );
    expect(first).toContain('waltz.pdf');
    expect(first).toContain('127.0.0.1');
    await until(
      () => fetchingText(page),
      (text) => text !== first,
      'it goes on',
    );
    expect(site.going).toBe(1);
    await stop(page);
    expect(await lineOf(page)).toMatch(/waltz\.pdf.*was stopped/);
    await until(
      () => Promise.resolve(site.going),
      (going) => going === 0,
      'the site is let go',
    );
    expect(await page.$('.line.fetching')).toBe(null);
    expect(await namesOf(page)).not.toContain('waltz');
    // The page is as usable as before.
    await choose(page, 'input.open-file', sample('first.pdf'), sample('endings.pdf'));
    await page.waitForFunction(() => document.querySelectorAll('li.tune').length === 2);
    await page.close();
  });

  test('the toolbar button on a tab that is long in coming leads to a page that tells and stops', async () => {
    const tab = await driver.browser.newPage();
    await tab.goto(`${site.address}/tired/endings.pdf`, { waitUntil: 'domcontentloaded' });
    await named(driver, tab);
    site.slow = true;
    await driver.clickAction(tab);
    const page = await pageThat(driver, (at) => at.startsWith('/tunes/'), 'the tunes are open');
    await until(
      () => fetchingText(page),
      (text) => /endings\.pdf.*\d %/.test(text),
      'it tells how far it is',
    );
    await page.bringToFront();
    await page.click('[data-command="stop-fetching"]');
    expect(await lineOf(page)).toMatch(/endings\.pdf.*was stopped/);
    await until(
      () => Promise.resolve(site.going),
      (going) => going === 0,
      'the site is let go',
    );
    await page.close();
    await tab.close();
  });

  test.runIf(briefly('chromium').includes(name))(
    'a site that falls silent for half a minute: one line',
    async () => {
      const page = await typeAddress(driver, `${site.address}/silent/aaba.pdf`);
      expect(await lineOf(page, 60)).toContain('half a minute');
      expect(await addressOf(page)).toBe('/tunes/index.html');
      await page.close();
    },
  );
});

describe.each(browsers)('a page that hangs, %s', (name) => {
  let driver;
  beforeAll(async () => (driver = await start(name)));
  afterAll(() => driver.close());

  test.each([
    ['its button', (page) => page.click('[data-command="stop-opening"]')],
    ['Escape', (page) => page.keyboard.press('Escape')],
  ])('the first one: opening it is stopped by %s', async (_, stop) => {
    const page = await openTunes(driver);
    await choose(page, 'input.open-file', {
      name: 'tangle.pdf',
      bytes: hanging([0]),
      type: 'application/pdf',
    });
    await page.waitForSelector('.stand-opening');
    await page.waitForFunction(() =>
      document.querySelector('.stand-opening').textContent.includes('Drawing'),
    );
    await page.waitForSelector('.stand-opening', { visible: true });
    await stop(page);
    expect(await lineOf(page)).toMatch(/tangle.*was stopped/);
    await page.close();
  });

  // Each waits for a time limit to run out: one of them in every run, all in the long one.
  const stuckPages = [
    ['the first of several', 0, briefly('chromium')],
    ['one behind the first', 1, briefly()],
  ].filter(([, , where]) => where.includes(name));
  test.each(stuckPages)('%s: it has its line, and the others go on', async (_, stuck) => {
    const page = await openTunes(driver);
    await choose(page, 'input.open-file', {
      name: 'three.pdf',
      bytes: hanging([stuck]),
      type: 'application/pdf',
    });
    const line = await until(
      () => linesOf(page),
      (lines) => lines.some((each) => each.includes('could not be drawn')),
      'the page has its line',
      90,
    );
    expect(line[0]).toContain(`Page ${stuck + 1}`);
    await page.evaluate(() => document.querySelectorAll('.page')[2].scrollIntoView());
    const inked = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('.page')].map((each) => {
          const canvas = each.querySelector('canvas');
          if (!canvas?.width) return false;
          const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
          return data.some((value, i) => i % 4 === 0 && value < 64);
        }),
      );
    const drawn = await until(inked, (now) => now.filter(Boolean).length === 2, 'the others are drawn', 60);
    expect(drawn).toEqual([0, 1, 2].map((each) => each !== stuck));
    expect(
      await page.$$eval('.page[data-undrawable]', (pages) => pages.map((each) => each.dataset.pageNumber)),
    ).toEqual([String(stuck + 1)]);
    await until(
      () => page.evaluate(() => document.documentElement.dataset.state),
      (state) => state === 'ready',
      'the stand is ready',
      60,
    );
    await page.close();
  });
});
