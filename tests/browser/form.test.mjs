import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hashOf, putOnStand } from './drive/charts.mjs';
import { briefly, linesOf, press, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';

/** The letters along the rope. */
const letters = (page) =>
  page.$$eval('.form-letters button', (all) => all.map((each) => each.textContent).join(' '));
/** The order by hand: each stretch by its first and last bar. */
const order = (page) =>
  page.$$eval('.marks-order li', (rows) =>
    rows.map((row) => [...row.querySelectorAll('input')].map((field) => field.value).join('–')).join(' '),
  );
/** Presses a button as the keyboard does. */
const byKey = async (page, selector) => {
  await page.focus(selector);
  await page.keyboard.press('Enter');
};
const becomes = (read, wanted, what) => until(read, (now) => now === wanted, what);

describe.each(briefly('chromium'))('the form in %s', (name) => {
  let driver;
  let page;
  beforeAll(async () => {
    driver = await start(name);
    ({ page } = await putOnStand(driver, 'aaba', {}));
    await press(page, 'marks');
    await becomes(() => letters(page), 'A A B A', 'the form as it was');
  });
  afterAll(() => driver?.close());

  test('choruses, and a section that sounds in one of them alone', async () => {
    const choruses = async (count) => {
      const field = await page.waitForSelector('.marks-row input[aria-description]');
      await field.click({ count: 3 });
      await page.keyboard.type(count);
      await page.keyboard.press('Tab');
    };
    await choruses('2');
    await becomes(() => letters(page), 'A A B A A A B A', 'the form twice');
    await byKey(page, '.form-letters button:nth-child(3)');
    const when = '.marks-row select:has(option[value="first-chorus"])';
    await page.waitForSelector(when);
    await page.select(when, 'first-chorus');
    await becomes(() => letters(page), 'A A B A A A A', 'B in the first chorus alone');
    await page.select(when, 'last-chorus');
    await becomes(() => letters(page), 'A A A A A B A', 'B in the last chorus alone');
    await page.select(when, '');
    await choruses('many');
    await becomes(() => letters(page), 'A A B A A A B A', 'what is no number is put back');
    await choruses('1');
    await becomes(() => letters(page), 'A A B A', 'the form as it was');
  });

  test('D.C. al Fine is told by keys alone, and shown along the rope', async () => {
    await byKey(page, '.form-letters button:nth-child(4)');
    const chosen = () =>
      page.$$eval('[data-mark="bar"]', (all) => all.findIndex((bar) => bar.dataset.current));
    await becomes(chosen, 24, 'bar 25 chosen');
    await page.keyboard.press('ArrowDown');
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
    await becomes(chosen, 31, 'bar 32 chosen');
    await page.keyboard.press('KeyL');
    await page.keyboard.press('KeyL');
    await becomes(() => letters(page), 'A A B A A A B A', 'back to the beginning');
    // Without a Fine nobody can say where it ends: the drill does not begin, and the line says what to do.
    await page.keyboard.press('KeyB');
    await until(
      () => linesOf(page),
      (lines) => lines.some((line) => line.includes('bar 32')),
      'the line about bar 32',
    );
    await byKey(page, '.form-letters button:nth-child(2)');
    await becomes(chosen, 8, 'bar 9 chosen');
    await page.keyboard.press('ArrowLeft');
    await becomes(chosen, 7, 'bar 8 chosen');
    await page.keyboard.press('KeyF');
    await becomes(() => letters(page), 'A A B A A', 'to the Fine');
    const label = await page.$eval('[data-current]', (bar) => bar.getAttribute('aria-label'));
    expect(label).toContain('Fine');
  });

  test('how a sign is read can be switched, and back', async () => {
    const places = () => page.$$eval('.marks-places button', (all) => all.length);
    await page.click('.marks-ways summary');
    const fine = '.marks-ways label:nth-of-type(4) input';
    await page.click(fine);
    // The Fine ends the tune the first time: one section is left, and no rope.
    await becomes(() => letters(page), '', 'to the Fine at once');
    expect(await places()).toBe(0);
    await page.click(fine);
    await becomes(() => letters(page), 'A A B A A', 'to the Fine after the D.C.');
    await page.click('.marks-ways summary');
  });

  test('any place of the route is reached from the rope', async () => {
    await byKey(page, '.form-letters button:nth-child(3)');
    await byKey(page, '.marks-places button:nth-child(5)');
    await until(
      () => page.$$eval('[data-mark="bar"]', (all) => all.findIndex((bar) => bar.dataset.current)),
      (at) => at === 20,
      'bar 21 chosen',
    );
  });

  test('what the plan costs follows the gap that is set, in numbers that can be read', async () => {
    const costs = () => page.$eval('.plan-costs', (all) => all.textContent);
    const before = await costs();
    expect(before).toMatch(/ \d,\d{3} clean passes/);
    await press(page, 'settings');
    await page.waitForSelector('dialog[open]');
    await page.select('dialog select:has(option[value="as-long"])', 'as-long');
    await page.keyboard.press('Escape');
    await until(costs, (now) => now !== before, 'another cost');
  });

  test('the order is put right by hand with the keyboard, undone, and drilled', async () => {
    await byKey(page, '.marks-by-hand');
    await becomes(() => order(page), '1–8 9–16 17–24 25–32 1–8', 'the route as a list');
    const unnamed = await page.$$eval(
      '.marks-order :is(button, input, select)',
      (all) => all.filter((each) => !(each.getAttribute('aria-label') ?? each.textContent.trim())).length,
    );
    expect(unnamed).toBe(0);
    await byKey(page, '.marks-order li:nth-child(5) [data-do="remove"]');
    await becomes(() => order(page), '1–8 9–16 17–24 25–32', 'the last A gone');
    await byKey(page, '.marks-order li:nth-child(3) [data-do="up"]');
    await becomes(() => order(page), '1–8 17–24 9–16 25–32', 'B earlier');
    // The keyboard stays on the stretch that was moved.
    await page.keyboard.press('Enter');
    await becomes(() => order(page), '17–24 1–8 9–16 25–32', 'B first');
    await page.keyboard.down('Control');
    await page.keyboard.press('KeyZ');
    await page.keyboard.up('Control');
    await becomes(() => order(page), '1–8 17–24 9–16 25–32', 'one step back');
    await becomes(() => letters(page), 'A B A A', 'the rope as ordered');
    await press(page, 'marks-begin');
    const log = await until(
      () => readLog(page, hashOf('aaba')),
      (events) => events.filter(({ type }) => type === 'plan').length > 1,
      'the new plan',
    );
    const { plan } = log.findLast(({ type }) => type === 'plan');
    expect(plan.sections.map((section) => section.name)).toEqual(['A', 'B', 'A', 'A']);
    const { marks } = log.findLast(({ type }) => type === 'marks');
    expect(marks).toMatchObject({ version: 2, byHand: [{}, {}, {}, {}] });
  });
});
