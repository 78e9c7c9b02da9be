import { afterAll, beforeAll, describe, test } from 'vitest';
import { checkAxe as check } from './drive/axe.mjs';
import { played, putOnStand } from './drive/charts.mjs';
import { briefly, press, shows, start } from './drive/index.mjs';

const numbers = { start: 60, goal: 120, streak: 10 };

describe.each(briefly('chromium'))('no serious finding of axe in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name);
  });
  afterAll(() => driver.close());

  test('the tunes: first run, menu, list, settings, help', async () => {
    const first = await driver.openPage('tunes/index.html');
    await first.waitForSelector('html[data-state="ready"]');
    await check(first, 'first run');
    await first.click('.open-chart > button');
    await check(first, 'open a chart');
    await first.close();

    const { page } = await putOnStand(driver, 'first', numbers);
    await page.close();
    const tunes = await driver.openPage('tunes/index.html');
    await tunes.waitForSelector('li.tune');
    await check(tunes, 'list');
    const [, settings, help] = await tunes.$$('.foot button');
    await settings.click();
    await tunes.waitForSelector('dialog[open]');
    await check(tunes, 'settings');
    await tunes.keyboard.press('Escape');
    await help.click();
    await tunes.waitForSelector('dialog[open]');
    await check(tunes, 'help');
    await tunes.close();
    const lost = await driver.openPage('tunes/index.html#problem=not-pdf&about=notes.pdf');
    await lost.waitForSelector('.warning');
    await check(lost, 'a problem');
    await lost.close();
  });

  test('the stand: drill, settings, help, keys', async () => {
    const { page } = await putOnStand(driver, 'waltz', numbers);
    await check(page, 'before the first pass');
    await press(page, 'begin');
    await shows(page, { phase: 'playing' });
    await check(page, 'playing');
    await press(page, 'pause');
    await shows(page, { phase: 'paused' });
    await check(page, 'paused');
    await press(page, 'settings');
    await page.waitForSelector('dialog[open]');
    await check(page, 'settings');
    await page.keyboard.press('Escape');
    await page.waitForFunction(() => !document.querySelector('dialog'));
    await press(page, 'help');
    await page.waitForSelector('dialog[open]');
    await check(page, 'help');
    await page.click('dialog > button');
    await check(page, 'keys');
    await page.close();
  });

  test('the stand: wall', async () => {
    const slips = Array.from({ length: 30 }, () => played('scanned', numbers, 'slip'));
    const { page } = await putOnStand(driver, 'scanned', numbers, slips);
    await press(page, 'begin');
    await shows(page, { phase: 'wall' });
    await check(page, 'wall');
    await page.close();
  });

  test('the stand: marks and plan', async () => {
    const { page } = await putOnStand(driver, 'endings', numbers);
    await press(page, 'marks');
    await page.waitForSelector('.marks-bar');
    await check(page, 'nothing selected');
    await page.click('.marks-bar');
    await check(page, 'a bar selected');
    await page.keyboard.press('w');
    await page.waitForSelector('.marks-edge');
    await check(page, 'a line selected');
    await page.$eval('.plan-finer', (finer) => (finer.open = true));
    await check(page, 'every number of the plan');
    await page.close();
  });
});
