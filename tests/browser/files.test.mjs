/** Every kind of file in the real extension: its first page as poppler draws it, or refused with its line. */
import { appendFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { difference, overlap, poppler } from '../files/compare.mjs';
import { corpus } from '../files/corpus.mjs';
import { has } from '../files/tools.mjs';
import { briefly, choose, linesOf, start, until } from './drive/index.mjs';

const locales = resolve(import.meta.dirname, '../../src/_locales/en');
const messages = Object.assign(
  {},
  ...['stand', 'tunes'].map((screen) => JSON.parse(readFileSync(join(locales, `${screen}.json`), 'utf8'))),
);

/**
 * Lightness may differ by so much of all there is, and so many pixels by more than a quarter, after a blur of one
 * pixel: edges that each reader smooths in its own way come to half of it.
 */
const MEAN = 0.025;
const OFF = 0.02;
/** So much of the ink has ink of the other drawing within 6 px, where letters come from another font. */
const NEAR = 0.85;
/** The longest that a file may take before it is drawn or refused, s. */
const LIMIT = 75;

const folder = mkdtempSync(join(tmpdir(), 'holdfast-corpus-'));
const made = new Map();
/** The path of a case's file. */
function fileOf(name) {
  if (!made.has(name)) {
    const path = join(folder, `${name}.pdf`);
    writeFileSync(path, corpus.find((each) => each.name === name).make());
    made.set(name, path);
  }
  return made.get(name);
}

const seen = (page) =>
  page.evaluate(() => ({
    drawn: performance.getEntriesByName('first-page').length > 0,
    asks: document.querySelector('dialog input[type="password"]') !== null,
    typing: document.activeElement?.matches('dialog[open] input[type="password"]') ?? false,
    says: document.getElementById('locked-ask')?.textContent ?? null,
    lines: [...document.querySelectorAll('.warning')].length,
  }));

/** What stands on the stand: the first page as it was drawn, its size in points, how many there are. */
const drawing = (page) =>
  page.evaluate(() => {
    const first = document.querySelector('.page');
    const number = (name) => Number(getComputedStyle(first).getPropertyValue(name));
    return {
      png: first.querySelector('canvas').toDataURL('image/png').split(',')[1],
      size: [number('--page-width'), number('--page-height')],
      pages: document.querySelectorAll('.page').length,
    };
  });

async function unlock(page, password, words) {
  await until(
    () => seen(page),
    // Nobody types before the field has the keyboard.
    ({ asks, says, typing }) => asks && typing && says.includes(words),
    `the stand asks: ${words}`,
  );
  await page.type('dialog input[type="password"]', password);
  await page.keyboard.press('Enter');
}

/** For the table of a report: one line of JSON a file. */
function report(line) {
  if (process.env.HOLDFAST_REPORT) appendFileSync(process.env.HOLDFAST_REPORT, `${JSON.stringify(line)}\n`);
}

const chosen = corpus.filter(({ brief }) => brief || process.env.HOLDFAST_LONG);
const only = process.env.HOLDFAST_FILES && new RegExp(process.env.HOLDFAST_FILES);

describe.each(briefly('chromium'))('files in %s', (name) => {
  let driver;
  beforeAll(async () => {
    mkdirSync(folder, { recursive: true });
    driver = await start(name);
  });
  afterAll(async () => {
    await driver.close();
    rmSync(folder, { recursive: true, force: true });
    made.clear();
  });

  const cases = chosen.filter((each) => !only || only.test(each.name));
  test.each(cases.map((each) => [each.name, each]))('%s', async (title, each, context) => {
    const missing = each.needs.filter((program) => !has(program));
    if (missing.length > 0) context?.skip?.(`no ${missing.join(', ')} here to make it`);
    const path = fileOf(title);
    const page = await driver.openPage('tunes/index.html');
    try {
      await page.waitForSelector('html[data-state="ready"]');
      const began = performance.now();
      await (await page.waitForSelector('input.open-file')).uploadFile(path);
      if (each.password !== undefined) {
        await unlock(page, `not ${each.password}`, 'opens with its password');
        await unlock(page, each.password, 'not the password');
      }
      const now = await until(
        () => seen(page),
        ({ drawn, lines }) => drawn || lines > 0,
        'it is drawn or refused',
        LIMIT,
      );
      const seconds = (performance.now() - began) / 1000;
      if (each.answers) {
        report({ browser: name, name: title, opened: now.drawn, seconds });
        return;
      }
      if (each.line !== undefined) {
        const lines = await linesOf(page);
        report({ browser: name, name: title, opened: false, line: lines[0], seconds });
        expect(lines).toHaveLength(1);
        const [before, after] = messages[each.line].message.split('$1');
        expect(lines[0]).toContain(title);
        expect(lines[0].startsWith(before)).toBe(true);
        expect(lines[0]).toContain(after);
        return;
      }
      expect(await linesOf(page)).toEqual([]);
      const { png, size, pages } = await drawing(page);
      expect(pages).toBe(each.pages ?? 1);
      if (each.size) each.size.forEach((value, axis) => expect(size[axis]).toBeCloseTo(value, 0));
      const own = PNG.sync.read(Buffer.from(png, 'base64'));
      // Each side by itself: a pixel more or less of a narrow page's width would move the end of a long one by many.
      const perUnit = [own.width / size[0], own.height / size[1]].map((scale) => scale * (each.unit ?? 1));
      const other = poppler(fileOf(each.like ?? title), perUnit, each.password);
      const { mean, off, ink } = difference(own, other);
      const near = each.loose ? overlap(own, other, 6) : null;
      report({ browser: name, name: title, opened: true, mean, off, near, ink, seconds });
      if (each.blank) expect(ink).toBe(0);
      else expect(ink).toBeGreaterThan(0.003);
      if (each.loose) expect(near).toBeGreaterThan(NEAR);
      else {
        expect(mean).toBeLessThan(MEAN);
        expect(off).toBeLessThan(each.rough ? 1.5 * OFF : OFF);
      }
    } finally {
      await page.close();
    }
  });

  test.runIf(has('qpdf'))('a password is asked for again unless it was to be remembered', async () => {
    const { name: title, password } = corpus.find((each) => each.name === 'locked rc4 128');
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(page, 'input.open-file', fileOf(title));
    await unlock(page, password, 'opens with its password');
    const drawn = () =>
      until(
        () => seen(page),
        (now) => now.drawn && !now.asks,
        'it is drawn',
      );
    await drawn();
    const kept = await until(
      () => page.evaluate(() => location.pathname.slice(1) + location.hash),
      (at) => at.includes('chart='),
      'it is kept',
    );
    await page.close();
    const second = await driver.openPage(kept);
    await until(
      () => seen(second),
      ({ asks, typing, says }) => asks && typing && says.includes(title),
      'it asks again, by its name',
    );
    await second.click('dialog input[type="checkbox"]');
    await second.focus('dialog input[type="password"]');
    await unlock(second, password, 'opens with its password');
    await until(
      () => seen(second),
      (now) => now.drawn && !now.asks,
      'it is drawn again',
    );
    await second.close();
    const third = await driver.openPage(kept);
    const now = await until(
      () => seen(third),
      ({ drawn: done, asks }) => done || asks,
      'it opens by itself',
    );
    expect(now.asks).toBe(false);
    await third.close();
  });

  test('another page of the same form is not taken for the same', () => {
    const [one, other] = ['plain', 'changed afterwards'].map((title) => poppler(fileOf(title), [1.5, 1.5]));
    expect(difference(one, one)).toMatchObject({ mean: 0, off: 0 });
    const { mean, off } = difference(one, other);
    // Only the notes differ, by a step or two.
    expect(mean > MEAN || off > OFF).toBe(true);
  });

  test.each(corpus.filter(({ acts }) => acts).map((each) => [each.name]))(
    'nothing acts in: %s',
    async (title) => {
      const page = await driver.openPage('tunes/index.html');
      await page.waitForSelector('html[data-state="ready"]');
      const said = [];
      page.on('dialog', (dialog) => {
        said.push(dialog.message());
        void dialog.dismiss();
      });
      const pages = (await driver.browser.pages()).length;
      await choose(page, 'input.open-file', fileOf(title));
      await until(
        () => page.evaluate(() => document.querySelector('#stand') && document.documentElement.dataset.state),
        (state) => state === 'ready',
        'it is ready',
      );
      const address = await page.evaluate(() => location.href);
      const box = await page.evaluate(() => {
        const { left, top, width } = document.querySelector('.page').getBoundingClientRect();
        return { x: left + width / 3, y: top + width * 0.15 };
      });
      // Where the field, or the link, is.
      await page.mouse.click(box.x, box.y);
      await page.mouse.click(box.x, box.y + 100);
      const traces = await page.evaluate(() => ({
        ran: 'scriptRan' in globalThis,
        title: document.title,
        // What is not visible can be neither clicked nor reached from the keyboard.
        live: [...document.querySelectorAll('.page :is(a, input, button, select, textarea, iframe)')].filter(
          (element) => element.checkVisibility({ visibilityProperty: true }),
        ).length,
      }));
      expect(traces).toEqual({ ran: false, title, live: 0 });
      expect(await page.evaluate(() => location.href)).toBe(address);
      expect((await driver.browser.pages()).length).toBe(pages);
      expect(said).toEqual([]);
      await page.close();
    },
  );
});
