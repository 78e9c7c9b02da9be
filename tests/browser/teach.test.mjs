import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { briefly, choose, press, start, until } from './drive/index.mjs';
import { checkAxe } from './drive/axe.mjs';
import { pdfFile } from './drive/engraved.mjs';
import { readLog } from './drive/log.mjs';
import { scanOf } from './drive/scan.mjs';

/** Shift+Q. */
const nextChange = async (page) => {
  await page.keyboard.down('Shift');
  await page.keyboard.press('KeyQ');
  await page.keyboard.up('Shift');
};
const barsIn = (marks) => marks.systems.map(({ bars }) => bars.length).join();

describe.each(briefly('chromium'))('one correction teaches the rest in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name, { size: { width: 1440, height: 900 } });
  });
  afterAll(() => driver.close());

  const chartOf = (page) => page.evaluate(() => new URLSearchParams(location.hash.slice(1)).get('chart'));
  const marksOf = async (page) =>
    (await readLog(page, await chartOf(page))).filter(({ type }) => type === 'marks').at(-1)?.marks;
  const kept = (page, wanted, what) =>
    until(
      () => marksOf(page),
      (marks) => marks !== undefined && wanted(marks),
      what,
    );

  async function open(file) {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', file);
    await until(
      () =>
        page.evaluate(() =>
          [document.querySelector('#stand')?.dataset.mode, document.documentElement.dataset.state].join(),
        ),
      (now) => now === 'drill,ready',
      'the chart is on the stand',
    );
    await press(page, 'marks');
    await page.waitForSelector('.marks-sheet');
    return page;
  }

  test('bar lines that stop short: one put in puts its likes in, and one undo takes them back', async () => {
    // Every second bar line stops short of the outer staff lines.
    const page = await open(
      await pdfFile('short', [{ title: 'Grey Harbour', isShort: (_, line) => line === 2 }]),
    );
    await kept(page, (marks) => barsIn(marks) === '3,3,3,3,3,3', 'bars are found without those');
    // In the middle of the wide bar, where the short line is.
    const [, wide] = await page.$$('[data-mark="bar"]');
    const box = await wide.boundingBox();
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2, { count: 2 });
    await page.waitForSelector('[data-changes="10"]');
    expect(await page.$eval('.marks-changes h2', (line) => line.textContent)).toBe(
      '5 more like it were put in.',
    );
    await kept(page, (marks) => barsIn(marks) === '4,4,4,4,4,4', 'all are put in');
    // Each can be looked at.
    const chosen = () =>
      page.$eval('.marks-bar[aria-selected="true"]', (bar) => bar.dataset.bar).catch(() => null);
    await nextChange(page);
    const first = await until(chosen, Boolean, 'the first of them is selected');
    await nextChange(page);
    await until(chosen, (bar) => bar !== null && bar !== first, 'then the next');
    await page.click('.marks-changes [data-command="marks-undo"]');
    // What the player did stays.
    await kept(page, (marks) => barsIn(marks) === '4,3,3,3,3,3', 'the likes are taken back');
    await page.waitForSelector('.marks-changes', { hidden: true });
    await page.close();
  });

  test('finding again says which bars have changed, and leads to each', async () => {
    const page = await open(await pdfFile('again', [{ title: 'Second Light', systems: 3 }]));
    const [, second] = await page.$$('[data-mark="bar"]');
    await second.click();
    // Bars 2 and 3 are joined, and the line is the player's own; the last line is taken away.
    await page.keyboard.press('KeyJ');
    await kept(page, (marks) => barsIn(marks) === '3,4,4', 'two bars are joined');
    const bars = await page.$$('[data-mark="bar"]');
    await bars.at(-1).click();
    await page.keyboard.press('KeyW');
    await page.keyboard.press('Delete');
    await kept(page, (marks) => barsIn(marks) === '3,4', 'a line is gone');
    await press(page, 'marks-find');
    await page.waitForSelector('[data-changes]');
    expect(await page.$eval('.marks-changes h2', (line) => line.textContent)).toMatch(
      /4 bars new, 0 gone, 3 of yours/,
    );
    const listed = await page.$$eval('.marks-changes li', (rows) => rows.map((row) => row.textContent));
    // A bar whose twin went with the joined ones has changed too.
    expect(listed.filter((text) => text.endsWith('new'))).toEqual([8, 9, 10, 11].map((n) => `bar ${n}: new`));
    await page.click('.marks-changes li:last-child button');
    const selected = await page.$eval('.marks-bar[aria-selected="true"]', (bar) =>
      bar.getAttribute('aria-label'),
    );
    expect(selected).toContain('11');
    await page.close();
  });

  test('sections of a scan that look alike are asked about, and the answer stays', async () => {
    const page = await open(await scanOf('aaba', 110));
    const asked = (on = page) =>
      on.$eval('.marks-alike', (panel) => Number(panel.dataset.alike)).catch(() => 0);
    const heading = () => page.$eval('.marks-alike h2', (line) => line.textContent);
    const number = await until(() => asked(), Boolean, 'it asks');
    expect(await page.$$eval('.marks-bar.lit', (bars) => bars.length)).toBeGreaterThanOrEqual(8);
    const first = await heading();
    const twins = (marks) => marks.systems.flatMap(({ bars }) => bars).filter((bar) => bar.as !== undefined);
    const before = twins(await marksOf(page)).length;
    await checkAxe(page, 'bars that look alike');
    // What is unticked is told apart.
    await page.click('.marks-alike input');
    await page.evaluate(() => document.activeElement.blur());
    const unticked = await page.$$eval('.marks-alike input:not(:checked)', (ticks) => ticks.length);
    await page.keyboard.press('KeyY');
    await kept(page, (marks) => twins(marks).length > before, 'they are twins');
    expect((await marksOf(page)).unlike?.length ?? 0).toBe(unticked);
    expect(await asked()).toBe(number - 1);
    // Taken back it is asked again; said not to be the same it is not, nor when the chart is opened anew.
    await press(page, 'marks-undo');
    await until(heading, (text) => text === first, 'it asks again');
    await page.keyboard.press('KeyU');
    await kept(page, (marks) => marks.unlike?.length > 0, 'they are told apart');
    expect(await asked()).toBe(number - 1);
    const chart = await chartOf(page);
    await page.close();
    const again = await driver.openPage(`stand/index.html#chart=${chart}`);
    await again.waitForSelector('html[data-state="ready"]');
    await press(again, 'marks');
    await again.waitForSelector('.marks-sheet');
    if (number > 1)
      await until(
        () => asked(again),
        (now) => now === number - 1,
        'the others are still asked about',
      );
    else expect(await asked(again)).toBe(0);
    await again.close();
  });
});
