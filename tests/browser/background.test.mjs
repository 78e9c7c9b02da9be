import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { browsers, choose, press, shows, start, until } from './drive/index.mjs';
import { pdfFile } from './drive/engraved.mjs';

const names = ['Grey Harbour', 'Second Light', 'Third Watch', 'Slow Ferry', 'Low Water', 'Salt Road'];
// More than are found while a browser makes its first sound.
const TUNES = 40;
const title = (i) => `${names[i % names.length]} ${i + 1}`;

describe.each(browsers)('the rest of a book is found in the background in %s', (name) => {
  let driver;
  let book;
  beforeAll(async () => {
    const pages = Array.from({ length: TUNES }, (_, i) => ({ title: title(i), systems: 3 + (i % 4) }));
    book = await pdfFile('book', pages);
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterAll(() => driver.close());

  const done = (page) =>
    page.evaluate(
      () =>
        new Promise((answer, fail) => {
          const opening = indexedDB.open('holdfast');
          opening.onerror = () => fail(opening.error);
          opening.onsuccess = () => {
            const all = opening.result.transaction('findings').objectStore('findings').count();
            all.onsuccess = () => {
              opening.result.close();
              answer(all.result);
            };
          };
        }),
    );
  const stood = (page, mode) =>
    until(
      () =>
        page.evaluate(() =>
          [document.querySelector('#stand')?.dataset.mode, document.documentElement.dataset.state].join(),
        ),
      (now) => now === `${mode},ready`,
      'the stand is ready',
    );

  test('it waits while a drill sounds, goes on after, and every tune is one press away', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', book);
    await stood(page, 'drill');
    await page.keyboard.press('KeyB');
    await shows(page, { phase: ['count-in', 'playing'] });
    // The page that was being read is read to its end.
    await new Promise((go) => setTimeout(go, 1500));
    const before = await done(page);
    expect(before).toBeLessThan(TUNES);
    await new Promise((go) => setTimeout(go, 2000));
    expect(await done(page)).toBe(before);
    await press(page, 'pause');
    await shows(page, { phase: 'paused' });
    await until(
      () => done(page),
      (count) => count === TUNES,
      'all pages are found',
      60,
    );

    await press(page, 'marks');
    await press(page, 'marks-another');
    await page.waitForSelector(`.stand-tunes li:nth-child(${TUNES})`);
    const listed = await page.$$eval('.stand-tunes li', (rows) => rows.map((row) => row.textContent));
    expect(listed).toEqual(
      Array.from({ length: TUNES }, (_, i) => `${title(i)} page ${i + 1}, ${4 * (3 + (i % 4))} bars`),
    );
    const began = performance.now();
    await page.click('.stand-tunes [data-tune="6"]');
    await until(
      () => page.title(),
      (now) => now === title(6),
      'the seventh tune',
    );
    await stood(page, 'drill');
    // Nothing is read again: it is there as soon as the page is.
    expect((performance.now() - began) / 1000).toBeLessThan(8);
    expect(await page.$eval('#stand', ({ dataset }) => dataset.bars)).toBe(String(4 * (3 + (6 % 4))));
    // From there back to the first one: the same chart, not another of it.
    await press(page, 'marks');
    await press(page, 'marks-another');
    await page.waitForSelector(`.stand-tunes li:nth-child(${TUNES})`);
    await page.click('.stand-tunes [data-tune="0"]');
    await until(
      () => page.title(),
      (now) => now === title(0),
      'the first tune',
    );
    await page.close();
    const tunes = await driver.openPage('tunes/index.html');
    await tunes.waitForSelector('li.tune:nth-child(2)');
    expect(await tunes.$$('li.tune')).toHaveLength(2);
    await tunes.close();
  });
});
