import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { putOnStand } from './drive/charts.mjs';
import { briefly, press, shows, start } from './drive/index.mjs';

const numbers = { start: 120, goal: 200, streak: 10 };
/** CSS px; the browsers' own default is 16. */
const TWICE = 32;
const sizes = [
  { width: 1440, height: 900 },
  { width: 834, height: 1194 },
  { width: 420, height: 860 },
];
const grown = {
  chromium: { args: [`--blink-settings=defaultFontSize=${TWICE}`] },
  firefox: { prefs: { 'font.size.variable.x-western': TWICE } },
};

/** What cannot be reached: controls that another thing covers once they have been scrolled to, sideways scrolling. */
const lost = (page) =>
  page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    const found = scrollWidth > clientWidth ? [`the page is ${scrollWidth - clientWidth} px too wide`] : [];
    for (const control of document.querySelectorAll('a, button, input, select, summary')) {
      if (!control.checkVisibility() || control.disabled || control.closest('.stand-page')) continue;
      control.scrollIntoView({ block: 'center', behavior: 'instant' });
      const { left, top, right, bottom } = control.getBoundingClientRect();
      const [x, y] = [(left + right) / 2, (top + bottom) / 2];
      const on = document.elementFromPoint(x, y);
      const name = control.textContent || control.name || control.type;
      if (!on || !(control.contains(on) || on.contains(control) || on.closest('label')?.contains(control)))
        found.push(`${name} at ${x}, ${y}`);
      else if (right > innerWidth + 1 || left < -1) found.push(`${name} is cut at the side`);
    }
    return found;
  });

const textSize = (page) =>
  page.evaluate(() => Number.parseFloat(getComputedStyle(document.querySelector('#stand, main')).fontSize));

describe.each(briefly('chromium'))('the caution in a low window, in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name);
  });
  afterAll(() => driver.close());

  test('leaves the rail at its head when it is closed', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.setViewport({ width: 720, height: 360 });
    await press(page, 'begin-sample');
    await page.waitForSelector('.caution');
    const scrolled = () => page.$eval('.stand-rail', ({ scrollTop }) => scrollTop);
    await page.$eval('[data-command="caution-ok"]', (button) => button.scrollIntoView({ block: 'end' }));
    expect(await scrolled()).toBeGreaterThan(0);
    await page.click('[data-command="caution-ok"]');
    await page.waitForSelector('.caution', { hidden: true });
    expect(await scrolled()).toBe(0);
  });
});

describe.each(briefly('chromium'))('text of twice the size, in %s: nothing is lost', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name, grown[name]);
  });
  afterAll(() => driver.close());

  test('drill, paused and sounding; marks; tunes', async () => {
    const { page } = await putOnStand(driver, 'waltz', numbers);
    expect(await textSize(page)).toBeGreaterThanOrEqual(TWICE);
    for (const size of sizes) {
      await page.setViewport(size);
      expect(await lost(page), `drill, ${size.width}`).toEqual([]);
      await press(page, 'begin');
      await shows(page, { phase: 'playing' });
      expect(await lost(page), `playing, ${size.width}`).toEqual([]);
      await page.keyboard.press('KeyP');
      await shows(page, { phase: 'paused' });
    }
    await page.keyboard.press('KeyM');
    await page.waitForSelector('.marks-bar');
    for (const size of sizes) {
      await page.setViewport(size);
      expect(await lost(page), `marks, ${size.width}`).toEqual([]);
    }
    await page.close();
    const tunes = await driver.openPage('tunes/index.html');
    await tunes.waitForSelector('li.tune');
    for (const size of sizes) {
      await tunes.setViewport(size);
      expect(await lost(tunes), `tunes, ${size.width}`).toEqual([]);
    }
    await tunes.close();
  });
});
