import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hashOf, putOnStand } from './drive/charts.mjs';
import { pdfFile } from './drive/engraved.mjs';
import { browsers, choose, press, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';

const WIDE = { width: 1440, height: 900 };
const UPRIGHT = { width: 420, height: 860 };
const LOW = { width: 720, height: 450 };

describe.each(browsers)('a window of another size, in %s', (name) => {
  let driver;
  let page;
  beforeAll(async () => {
    driver = await start(name, { size: WIDE });
  });
  afterAll(() => driver.close());

  /** Share of the first page that is above the window, and of its width that the window shows. */
  const seen = () =>
    page.evaluate(() => {
      const view = document.querySelector('.view');
      const sheet = document.querySelector('.page').getBoundingClientRect();
      const { left, top } = view.getBoundingClientRect();
      const right = Math.min(sheet.right, left + view.clientWidth);
      return {
        above: (top - sheet.top) / sheet.height,
        shown: view.clientHeight / sheet.height,
        across: (right - Math.max(sheet.left, left)) / sheet.width,
        width: view.clientWidth,
        bottom: view.clientHeight,
      };
    });
  const frames = () =>
    page.evaluate(() => new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go))));
  /** Sets the window's size and waits until the stand has followed. */
  async function resize(size) {
    const before = await seen();
    await page.setViewport(size);
    await until(
      seen,
      ({ width, bottom }) => width !== before.width || bottom !== before.bottom,
      'the window has changed',
    );
    // The view moves with the frame in which its size is seen.
    await frames();
    return seen();
  }

  test('what stands at the top of the marks stays there, and is as wide as before', async () => {
    ({ page } = await putOnStand(driver, 'aaba', {}));
    await press(page, 'marks');
    await page.waitForSelector('.marks-sheet');
    for (const size of [UPRIGHT, WIDE, LOW, UPRIGHT, WIDE]) {
      const now = await resize(size);
      expect(now.above).toBeCloseTo(0, 2);
      expect(now.across).toBeCloseTo(1, 2);
    }
    // Moved without the wheel, as by a scrollbar: so far that every window can show it at its top.
    await page.evaluate(() => {
      const view = document.querySelector('.view');
      view.scrollTop = 0.12 * document.querySelector('.page').clientHeight;
    });
    await frames();
    for (const size of [LOW, WIDE]) {
      const now = await resize(size);
      expect(now.above).toBeCloseTo(0.12, 2);
      expect(now.across).toBeCloseTo(1, 2);
    }
    // What is zoomed keeps its share of the page's width where the window is narrower.
    await page.evaluate(() => {
      const view = document.querySelector('.view');
      const at = { clientX: 300, clientY: 300, bubbles: true, cancelable: true };
      view.dispatchEvent(new WheelEvent('wheel', { ...at, ctrlKey: true, deltaY: -150 }));
    });
    const zoomed = await until(seen, ({ across }) => across < 0.8, 'the page is larger');
    expect((await resize(LOW)).across).toBeCloseTo(zoomed.across, 2);
    const back = await resize(WIDE);
    expect(back.above).toBeCloseTo(zoomed.above, 2);
    expect(back.across).toBeCloseTo(zoomed.across, 2);
  });

  test('the letter of a part covers no music where the lines are close', async () => {
    page = await driver.openPage('tunes/index.html');
    await page.setViewport(WIDE);
    await page.waitForSelector('html[data-state="ready"]');
    const tight = { title: 'Close Quarters', systems: 8, repeats: (line) => line % 2 === 0, distance: 36 };
    await choose(page, 'input.open-file', await pdfFile('tight', [tight]));
    await page.waitForSelector('.stand-name, .rail');
    await press(page, 'marks');
    await page.waitForSelector('.marks-badge');
    /** Letters but the first, which has room over its line, and how many of them lie on the page, before its staves (50 points). */
    const letters = () =>
      page.evaluate(() => {
        const sheet = document.querySelector('.page').getBoundingClientRect();
        const all = [...document.querySelectorAll('.marks-badge')].slice(1);
        const boxes = all.map((badge) => badge.getBoundingClientRect());
        const staves = sheet.left + (50 / 595) * sheet.width;
        const clear = boxes.filter(({ left, right }) => left >= sheet.left && right < staves);
        return { all: all.length, clear: clear.length, high: Math.min(...boxes.map(({ height }) => height)) };
      });
    const areClear = async () => {
      const { all, clear, high } = await letters();
      expect([all, clear]).toEqual([3, 3]);
      expect(high).toBeGreaterThan(10);
    };
    await areClear();
    await resize(UPRIGHT);
    await areClear();
    await resize(WIDE);
    await page.evaluate(() => {
      const at = { clientX: 300, clientY: 300, bubbles: true, cancelable: true };
      document
        .querySelector('.view')
        .dispatchEvent(new WheelEvent('wheel', { ...at, ctrlKey: true, deltaY: -40 }));
    });
    await until(seen, ({ across }) => across < 0.95, 'the page is larger');
    await areClear();
  });

  test('a long title is read whole in the panel of the marks, and is changed there', async () => {
    const title =
      'The Day the Harbour Master Forgot to Wind the Clock of the Old Custom House by the Lower Quay';
    const hidden = () =>
      page.$eval('.marks-title textarea', (field) => ({
        text: field.value,
        across: field.scrollWidth - field.clientWidth,
        down: field.scrollHeight - field.clientHeight,
        high: field.clientHeight,
      }));
    // On a stand of its own: another one holds the chart of the first test.
    ({ page } = await putOnStand(driver, 'waltz', {}));
    await press(page, 'marks');
    const field = await page.waitForSelector('.marks-title textarea:not([readonly])');
    const { high } = await hidden();
    await field.click({ count: 3 });
    await field.type(title);
    await page.keyboard.press('Enter');
    await until(
      () => readLog(page, hashOf('waltz')),
      (log) => log.some(({ type, name: said }) => type === 'named' && said === title),
      'the name is kept',
    );
    for (const size of [WIDE, UPRIGHT, LOW, WIDE]) {
      await page.setViewport(size);
      await frames();
      const now = await hidden();
      expect(now).toMatchObject({ text: title, across: 0, down: 0 });
      expect(now.high).toBeGreaterThan(1.8 * high);
    }
  });

  test('the span of a drill stays in view', async () => {
    ({ page } = await putOnStand(driver, 'aaba', {}));
    await page.keyboard.press('KeyW');
    await page.waitForFunction(() => !document.querySelector('.large'));
    for (const size of [UPRIGHT, LOW, WIDE]) {
      await resize(size);
      // The whole page but for its margins.
      await until(
        seen,
        ({ above, shown }) => above < 0.12 && above + shown > 0.6,
        `its music is seen at ${size.width}`,
      );
    }
  });
});
