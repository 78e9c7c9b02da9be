import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { hashOf } from './drive/charts.mjs';
import { addressOf, browsers, linesOf, pageThat, readStand, sample, start, until } from './drive/index.mjs';
import { openSite } from './drive/site.mjs';
import { lineOf, refuseSite, typeAddress } from './drive/tunes.mjs';

describe.each(browsers)('charts from the web in %s', (name) => {
  let driver, site, tab;
  beforeAll(async () => {
    [driver, site] = await Promise.all([start(name), openSite()]);
    tab = await driver.browser.newPage();
    await tab.goto(`${site.address}/`);
  });
  afterAll(async () => {
    await driver.close();
    await site.close();
  });

  test('the toolbar button on a tab with a PDF opens the stand on that chart, cookies and all', async () => {
    // A built-in viewer has no end of loading to wait for.
    await tab.goto(`${site.address}/waltz.pdf`, { waitUntil: 'domcontentloaded' });
    await driver.clickAction(tab);
    const hash = hashOf('waltz');
    const stand = await pageThat(
      driver,
      (at) => at === `/stand/index.html#chart=${hash}`,
      'the stand is open on the chart',
    );
    await until(
      () => readStand(stand),
      (now) => now.state === 'ready',
      'it is drawn',
    );
    expect(await stand.title()).toBe('Ropewalk Waltz');
    await stand.close();
    await tab.close();
  });

  // A tab of its own: a driver now and then waits in vain to leave the browser's viewer.
  test('the toolbar button on a page that is no PDF opens the tunes', async () => {
    const page = await driver.browser.newPage();
    await page.goto(`${site.address}/`);
    await driver.clickAction(page);
    const tunes = await pageThat(driver, (at) => at.startsWith('/tunes/'), 'the tunes are open');
    await tunes.waitForSelector('html[data-state="ready"]');
    expect(await linesOf(tunes)).toEqual([]);
    await tunes.close();
    await page.close();
  });

  test('an address typed on the tunes page, its site granted', async () => {
    await driver.grantHost(site.pattern);
    const page = await typeAddress(driver, `${site.address}/endings.pdf`);
    await until(
      () => addressOf(page),
      (at) => at === `/stand/index.html#chart=${hashOf('endings')}`,
      'the stand is open on the chart',
    );
    await until(
      () => readStand(page),
      (now) => now.state === 'ready',
      'it is drawn',
    );
    await page.close();
  });

  test.each([
    ['a web page that calls itself a PDF', '/page.pdf', 'page'],
    ['nothing', '/gone/away', 'away'],
  ])('an address that answers %s: one line that names it', async (_, path, named) => {
    const page = await typeAddress(driver, `${site.address}${path}`);
    const lines = await until(
      () => linesOf(page),
      (now) => now.length > 0,
      'a line is shown',
    );
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(named);
    expect(await addressOf(page)).toBe('/tunes/index.html');
    await page.close();
  });

  // Only Firefox's prompt can be reached from outside.
  test.runIf(name === 'firefox')(
    'a site that the player does not grant: one line that names it',
    async () => {
      const address = site.address.replace('127.0.0.1', 'localhost') + '/first.pdf';
      const page = await refuseSite(driver, () => typeAddress(driver, address));
      expect(await lineOf(page)).toContain('localhost');
      expect(await addressOf(page)).toBe('/tunes/index.html');
      await page.close();
    },
  );

  test('a file dropped on the tunes page', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    const base64 = readFileSync(sample('scanned.pdf')).toString('base64');
    await page.evaluate((data) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
      transfer.items.add(new File([bytes], 'fog bell.pdf', { type: 'application/pdf' }));
      for (const type of ['dragenter', 'dragover', 'drop'])
        document
          .querySelector('main')
          .dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: transfer }));
    }, base64);
    await until(
      () => addressOf(page),
      (at) => at === `/stand/index.html#chart=${hashOf('scanned')}`,
      'the stand is open on the chart',
    );
    await page.close();
  });
});
