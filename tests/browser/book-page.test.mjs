/** A book opens on the page that is wanted, and draws nothing before it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { corpus, hanging } from '../files/corpus.mjs';
import { addressOf, browsers, readStand, start, until } from './drive/index.mjs';
import { openSources } from './drive/sources.mjs';
import { typeAddress } from './drive/tunes.mjs';

const WANTED = 150;

/** Numbers of the pages that hold a drawing, from 1; pdf.js keeps the last ten. */
const drawn = (page) =>
  page.evaluate(() => {
    const pages = [...document.querySelectorAll('.page')];
    return pages
      .filter((each) => each.querySelector('canvas'))
      .map((each) => Number(each.dataset.pageNumber));
  });
/** The page at the middle of the window on them, whatever lies over it. */
const inView = (page) =>
  page.evaluate(() => {
    const { top, height } = document.querySelector('.view').getBoundingClientRect();
    const holds = (each) => {
      const place = each.getBoundingClientRect();
      return place.top <= top + height / 2 && place.bottom >= top + height / 2;
    };
    return Number([...document.querySelectorAll('.page')].find(holds)?.dataset.pageNumber);
  });
const firstDrawn = (page) =>
  until(
    () => page.evaluate(() => performance.getEntriesByName('first-page').length),
    (count) => count === 1,
    'the first page is drawn',
    60,
  );
const ready = (page) =>
  until(
    () => readStand(page),
    ({ state }) => state === 'ready',
    'the stand is ready',
    60,
  );

describe.each(browsers)('a book in %s', (name) => {
  let driver, site;
  beforeAll(async () => {
    [driver, site] = await Promise.all([start(name), openSources()]);
    site.files.book = corpus.find((each) => each.name === 'book of 300 pages').make();
    // Whoever draws the first of its pages waits for ever.
    site.files.tangled = hanging([0], 12);
    await driver.grantHost(site.patterns[0]);
  });
  afterAll(async () => {
    await driver.close();
    await site.close();
  });

  test('an address with a page opens there, and again from the shelf where its tune is', async () => {
    const page = await typeAddress(driver, `${site.address}/plain/book.pdf#page=${WANTED}`);
    await firstDrawn(page);
    const near = await drawn(page);
    expect(near).toContain(WANTED);
    expect(Math.min(...near)).toBeGreaterThanOrEqual(WANTED - 1);
    expect(await inView(page)).toBe(WANTED);
    await ready(page);
    expect(await inView(page)).toBe(WANTED);
    expect(await page.$$eval('.page', (pages) => pages.length)).toBe(300);
    const at = (await addressOf(page)).replace(/&page=\d+$/, '');
    await page.close();
    // Its bars are those of that page: there it opens from now on.
    const again = await driver.openPage(at.slice(1));
    await firstDrawn(again);
    await ready(again);
    expect(Math.min(...(await drawn(again)))).toBeGreaterThanOrEqual(WANTED - 1);
    await again.close();
  });

  test('a page before the wanted one that would never be drawn holds nothing up', async () => {
    const page = await typeAddress(driver, `${site.address}/plain/tangled.pdf#page=6`);
    await firstDrawn(page);
    await ready(page);
    expect(await inView(page)).toBe(6);
    expect(await drawn(page)).not.toContain(1);
    await page.close();
  });
});
