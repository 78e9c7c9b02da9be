/** What the player has let the extension read is listed, can be taken back, and is asked for again. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hashOf } from './drive/charts.mjs';
import { checkAxe } from './drive/axe.mjs';
import { addressOf, browsers, chooseInMenu, linesOf, pageThat, press, start, until } from './drive/index.mjs';
import { openSources } from './drive/sources.mjs';
import { lineOf, openTunes, refuseSite, typeAddress } from './drive/tunes.mjs';

const standOf = (name) => `/stand/index.html#chart=${hashOf(name)}`;
const listed = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('.sites [data-site]')].map(({ dataset }) => dataset.site),
  );
const filesTold = (page) =>
  page.$eval('.sites [data-files]', ({ dataset, textContent }) => [dataset.files, textContent]);
/** What the browser itself holds for granted. */
const granted = (page) =>
  page.evaluate(async () => (await (globalThis.browser ?? globalThis.chrome).permissions.getAll()).origins);

async function openPanel(driver) {
  const page = await openTunes(driver);
  await press(page, 'settings');
  await page.waitForSelector('.sites');
  return page;
}

const onStand = (page, name) =>
  until(
    () => addressOf(page),
    (at) => at === standOf(name),
    `${name} is on the stand`,
  );

describe.each(browsers)('sites that were granted, %s', (name) => {
  let driver, site, pattern;
  beforeAll(async () => {
    [driver, site] = await Promise.all([start(name), openSources()]);
    [pattern] = site.patterns;
    await driver.grantHost(pattern);
  });
  afterAll(async () => {
    await driver.close();
    await site.close();
  });

  /** Chromium gives an extension again what it once had, without a question: ours stands before that. */
  async function givesAgain(page) {
    await page.waitForSelector('.line.again');
    expect(await page.$eval('.line.again', ({ textContent }) => textContent)).toContain('took back');
    expect(await granted(page)).toEqual([]);
    await page.click('.line.again button.first');
    await onStand(page, 'endings');
    expect(await granted(page)).toEqual([pattern]);
    await page.close();
  }

  test('none at first; what is told of files is what this browser does', async () => {
    const page = await openPanel(driver);
    expect(await listed(page)).toEqual([]);
    expect(await page.$eval('.sites', ({ textContent }) => textContent)).toContain(
      'may read no site by itself',
    );
    const [state, text] = await filesTold(page);
    expect(state).toBe(name === 'firefox' ? 'never' : 'asked');
    expect(text).toContain('Files open in tabs');
    await page.close();
  });

  test('one that was fetched from is listed, and gone once it is taken back', async () => {
    const first = await typeAddress(driver, `${site.address}/plain/waltz.pdf`);
    await onStand(first, 'waltz');
    await first.close();
    const page = await openPanel(driver);
    expect(await listed(page)).toEqual([pattern]);
    expect(await granted(page)).toEqual([pattern]);
    await checkAxe(page, 'sites');
    await page.click(`[data-site="${pattern}"] button`);
    await until(
      () => listed(page),
      (now) => now.length === 0,
      'it is off the list',
    );
    expect(await granted(page)).toEqual([]);
    const said = await page.$eval('.sites [role="status"]', ({ textContent }) => textContent);
    expect(said).toContain('127.0.0.1');
    // The keyboard is not thrown back to the top of the page.
    expect(await page.evaluate(() => document.activeElement.closest('.sites') !== null)).toBe(true);
    await page.close();
  });

  test('the address that was taken back asks again', async () => {
    const link = `${site.address}/plain/endings.pdf`;
    if (name === 'firefox') {
      const page = await refuseSite(driver, () => typeAddress(driver, link));
      expect(await lineOf(page)).toContain('127.0.0.1');
      await page.close();
      return;
    }
    const page = await typeAddress(driver, link);
    await givesAgain(page);
  });

  // Firefox asks by itself.
  test.runIf(name === 'chromium')('the menu of a link asks before the site is read again', async () => {
    // As after the browser has given again by itself what the player took back: no machine can press its menu.
    const before = await openTunes(driver);
    await before.evaluate(
      (taken) =>
        new Promise((done, fail) => {
          const opening = indexedDB.open('holdfast');
          opening.onerror = () => fail(opening.error);
          opening.onsuccess = () => {
            const settings = opening.result.transaction('settings', 'readwrite').objectStore('settings');
            settings.get('settings').onsuccess = ({ target }) =>
              settings.put({ ...target.result, takenBack: [taken] }, 'settings');
            settings.transaction.oncomplete = () => done(opening.result.close());
          };
        }),
      pattern,
    );
    expect(await granted(before)).toEqual([pattern]);
    await before.close();
    const tab = await driver.browser.newPage();
    await tab.setContent(`<a id="chart" href="${site.address}/plain/endings.pdf">a chart</a>`);
    await chooseInMenu(driver, tab, '#chart');
    const page = await pageThat(driver, (at) => at.startsWith('/tunes/'), 'the tunes are open');
    await givesAgain(page);
    await tab.close();
  });

  // Firefox hands no file over, so there is nothing to grant.
  test.runIf(name === 'chromium')('files in tabs are allowed and taken back on the page itself', async () => {
    await driver.grantHost('file:///*');
    const files = await openPanel(driver);
    await files.click('.sites [data-files="asked"] button');
    await files.waitForSelector('.sites [data-files="granted"] button');
    expect(await granted(files)).toContain('file:///*');
    await files.click('.sites [data-files="granted"] button');
    await files.waitForSelector('.sites [data-files="asked"] button');
    expect(await granted(files)).toEqual([pattern]);
    await files.close();
  });
});
