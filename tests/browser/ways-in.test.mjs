/** From where a chart is to the stand: addresses of every kind, the menu of links, drops, tabs with files. */
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hashOf } from './drive/charts.mjs';
import {
  addressOf,
  browsers,
  choose,
  chooseInMenu,
  linesOf,
  named,
  pageThat,
  sample,
  start,
  until,
} from './drive/index.mjs';
import { openSources } from './drive/sources.mjs';
import { lineOf, openTunes, typeAddress } from './drive/tunes.mjs';

const standOf = (name) => `/stand/index.html#chart=${hashOf(name)}`;
const isLong = Boolean(process.env.HOLDFAST_LONG);

const onStand = (page, name) =>
  until(
    () => addressOf(page),
    (at) => at === standOf(name),
    `${name} is on the stand`,
  );

/** Drops text of a type on the page, as a link from another window comes. */
const dropLink = (page, link) =>
  page.evaluate((address) => {
    const transfer = new DataTransfer();
    transfer.setData('text/uri-list', address);
    for (const type of ['dragenter', 'dragover', 'drop'])
      document
        .querySelector('main')
        .dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: transfer }));
  }, link);

describe.each(browsers)('ways in, %s', (name) => {
  let driver, site;
  beforeAll(async () => {
    [driver, site] = await Promise.all([start(name), openSources()]);
    // Its cookie is the login.
    const tab = await tabOn('/links');
    await tab.close();
    await driver.grantHost(site.patterns[0]);
  });
  afterAll(async () => {
    await driver.close();
    await site.close();
  });

  /** A tab of its own each time: a driver now and then waits in vain to leave the browser's viewer. */
  const tabOn = async (path, options) => {
    const tab = await driver.browser.newPage();
    await tab.goto(site.address + path, options);
    return tab;
  };

  test.each([
    ['behind a login', 'by-cookie'],
    ['ranges refused', 'no-ranges'],
    ['called a text', 'as-text'],
    ['called nothing', 'as-nothing'],
    ['sent as a download', 'as-download'],
    ['moved on the same host', 'moved'],
    ['slow', 'slow'],
  ])('an address, %s', async (_, way) => {
    const page = await typeAddress(driver, `${site.address}/${way}/waltz.pdf`);
    await onStand(page, 'waltz');
    await page.close();
  });

  test.each([
    ['a redirect to a host that is not granted', 'away', 'another site'],
    ['the same where that host gives to everybody', 'away-open', 'another site'],
    ['an answer that breaks off', 'broken-off', 'broke off'],
  ])('%s: one line', async (_, way, said) => {
    const page = await typeAddress(driver, `${site.address}/${way}/aaba.pdf`);
    const line = await lineOf(page);
    expect(line).toContain('aaba.pdf');
    expect(line).toContain(said);
    expect(await addressOf(page)).toBe('/tunes/index.html');
    await page.close();
  });

  test.runIf(isLong)('an answer that stops coming: one line', async () => {
    const page = await typeAddress(driver, `${site.address}/silent/aaba.pdf`);
    const line = await lineOf(page, 60);
    expect(line).toContain('half a minute');
    await page.close();
  });

  test('the toolbar button on a tab whose address is that of a script', async () => {
    const path = '/chart.php?id=endings';
    const tab = await tabOn(path, { waitUntil: 'domcontentloaded' });
    await named(driver, tab);
    await driver.clickAction(tab);
    const stand = await pageThat(driver, (at) => at === standOf('endings'), 'the stand is open');
    await stand.close();
    // The tab itself is left as it was.
    expect(await tab.evaluate(() => location.href)).toBe(site.address + path);
    await tab.close();
  });

  test('the menu of a link', async () => {
    const tab = await tabOn('/links');
    await chooseInMenu(driver, tab, '#as-download');
    const stand = await pageThat(driver, (at) => at === standOf('waltz'), 'the stand is open');
    await stand.close();
    expect(await tab.evaluate(() => location.pathname)).toBe('/links');
    await tab.close();
  });

  test('the menu of a link that leads nowhere: one line', async () => {
    const tab = await tabOn('/links');
    await chooseInMenu(driver, tab, '#broken-off');
    const page = await pageThat(driver, (at) => at.startsWith('/tunes/'), 'the tunes are open');
    expect(await lineOf(page)).toContain('broke off');
    await page.close();
    await tab.close();
  });

  test('a link dropped on the tunes page, its site granted', async () => {
    const page = await openTunes(driver);
    await dropLink(page, `# a comment\r\n${site.address}/plain/waltz.pdf\r\n`);
    await onStand(page, 'waltz');
    await page.close();
  });

  test('a link dropped whose site was never granted waits for one press', async () => {
    const page = await openTunes(driver);
    const link = 'http://charts.invalid/plain/waltz.pdf';
    await dropLink(page, link);
    const offered = await until(
      () =>
        page.evaluate(() => ({
          address: document.querySelector('#address').value,
          open: !document.querySelector('#open-menu').hidden,
          focus: document.activeElement?.closest('.address') !== null,
        })),
      ({ open, focus }) => open && focus,
      'the menu is open',
    );
    expect(offered.address).toBe(link);
    expect(await linesOf(page)).toEqual([]);
    await page.close();
  });

  test('several files at once', async () => {
    const page = await openTunes(driver);
    await choose(page, 'input.open-file', sample('waltz.pdf'), sample('endings.pdf'), {
      name: 'letter.pdf',
      bytes: 'Dear all',
      type: 'application/pdf',
    });
    const line = await lineOf(page);
    expect(line).toContain('letter');
    await until(
      () => page.evaluate(() => document.body.innerText),
      (text) => text.includes('2 charts opened'),
      'the others are taken',
    );
    await page.close();
  });

  // Firefox hands no file over; Chromium asks for files with a prompt that cannot be reached from outside.
  test('a tab with a file', async () => {
    const granted = name === 'chromium';
    if (granted) await driver.grantHost('file:///*');
    const file = await driver.browser.newPage();
    await file
      .goto(pathToFileURL(sample('waltz.pdf')).href, { waitUntil: 'domcontentloaded' })
      .catch(() => undefined);
    await driver.clickAction(file);
    const page = await pageThat(driver, (at) => /^\/(tunes|stand)\//.test(at), 'a page of ours is open');
    if (granted) await onStand(page, 'waltz');
    else expect(await lineOf(page)).toMatch(/waltz.*open a chart.*drop it/);
    await page.close();
    await file.close();
  });

  test('a redirect to a host that is granted too', async () => {
    await driver.grantHost(site.patterns[1]);
    const first = await typeAddress(driver, `${site.other}/plain/waltz.pdf`);
    await onStand(first, 'waltz');
    await first.close();
    const page = await typeAddress(driver, `${site.address}/away/waltz.pdf`);
    await onStand(page, 'waltz');
    await page.close();
  });
});
