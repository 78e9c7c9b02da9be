import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { putOnStand } from './drive/charts.mjs';
import { pdfFile } from './drive/engraved.mjs';
import { briefly, browsers, choose, press, readStand, sample, start, until } from './drive/index.mjs';

/** Every step is a single clean pass: a span of several bars is a few skips away. */
const short = { start: 200, goal: 200, streak: 1, joinStreak: 1 };
const marksOf = (name) => JSON.parse(readFileSync(sample(`${name}.marks.json`), 'utf8'));

/** The pieces as they stand in the window and where they come from, and the scale they were drawn at. */
const readLarge = (page) =>
  page.evaluate(() => {
    const set = document.querySelector('.large-set');
    if (!set) return null;
    const rect = (element) => {
      const { left, top, right, bottom } = element.getBoundingClientRect();
      return { left, top, right, bottom };
    };
    return {
      scale: Number(set.dataset.scale),
      window: { width: innerWidth, height: innerHeight },
      stand: rect(document.querySelector('.stand-page')),
      lines: [...set.querySelectorAll('.large-line')].map((line) => ({
        bars: line.dataset.bars.split(' ').map(Number),
        pieces: [...line.querySelectorAll('canvas[data-source]')].map((canvas) => ({
          source: canvas.dataset.source.split(' ').map(Number),
          rect: rect(canvas),
        })),
      })),
    };
  });

async function standAt(driver, name, { width, height, density = 1 }, skips = 0) {
  const { page } = await putOnStand(driver, name, short);
  await page.setViewport({ width, height, deviceScaleFactor: density });
  for (let i = 0; i < skips; i++) {
    const before = await page.$eval('[data-span]', (span) => span.dataset.span);
    await page.keyboard.press('KeyN');
    await page.waitForFunction(
      (was) => document.querySelector('[data-span]').dataset.span !== was,
      {},
      before,
    );
  }
  const span = await page.$eval(
    '[data-span]',
    ({ dataset }) => Number(dataset.to) - Number(dataset.from) + 1,
  );
  // The rail has made room and every bar of the span is there, drawn for this screen.
  const large = await until(
    () => readLarge(page),
    (now) =>
      now?.lines.flatMap(({ bars }) => bars).length === span &&
      now.lines.every(({ pieces }) => pieces.every(({ rect }) => rect.right <= now.stand.right)),
    `${span} bars are set large`,
  );
  return { page, large };
}

/** Lightness of a piece as drawn, and as poppler draws the same part of the page at the same scale. */
async function drawnAndExpected(page, name, large, density, piece) {
  const [pageIndex, left, top, width, height] = piece.source;
  const light = await page.evaluate((source) => {
    const canvas = document.querySelector(`canvas[data-source="${source}"]`);
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    return Array.from({ length: data.length / 4 }, (_, i) => data[4 * i + 1]);
  }, piece.source.join(' '));
  const folder = mkdtempSync(join(tmpdir(), 'large-'));
  const draw = (perInch, x, y, w, h) => {
    const at = [`-r`, perInch, `-x`, x, `-y`, y, `-W`, w, `-H`, h].map(String);
    const number = String(pageIndex + 1);
    const out = join(folder, `at-${perInch}`);
    execFileSync('pdftoppm', ['-png', '-singlefile', '-f', number, ...at, sample(`${name}.pdf`), out]);
    const { data } = PNG.sync.read(readFileSync(`${out}.png`));
    return Array.from({ length: data.length / 4 }, (_, i) => data[4 * i + 1]);
  };
  const fine = large.scale * density;
  const sharp = draw(96 * fine, left, top, width, height);
  // The page at 100 %, stretched: what it would look like had it not been drawn anew.
  const [w, h] = [Math.ceil(width / fine) + 1, Math.ceil(height / fine) + 1];
  const small = draw(96, Math.floor(left / fine), Math.floor(top / fine), w, h);
  const stretched = sharp.map((_, i) => {
    const x = Math.floor((left + (i % width)) / fine) - Math.floor(left / fine);
    const y = Math.floor((top + Math.floor(i / width)) / fine) - Math.floor(top / fine);
    return small[y * w + x];
  });
  rmSync(folder, { recursive: true, force: true });
  const difference = (other) =>
    light.reduce((sum, value, i) => sum + Math.abs(value - other[i]), 0) / light.length;
  return {
    sharp: difference(sharp),
    stretched: difference(stretched),
    dark: light.filter((v) => v < 128).length,
  };
}

/** Plays and writes down, frame by frame, which bar has the thick stroke and where it is. */
const watchBeats = (page) =>
  page.evaluate(() => {
    window.strokes = [];
    const note = () => {
      const now = document.querySelector('.large-beats [data-beat="now"]');
      if (now) {
        const { left, right, top, bottom } = now.getBoundingClientRect();
        window.strokes.push({ bar: Number(now.parentElement.dataset.bar), left, right, top, bottom });
      }
      requestAnimationFrame(note);
    };
    note();
  });

describe.each(briefly('chromium'))('music first, in %s', (browser) => {
  let driver;
  // A chart goes on where it was left: each test has a browser of its own.
  beforeEach(async () => {
    driver = await start(browser);
  });
  afterEach(() => driver.close());

  test.each([
    ['two-pages', { width: 1024, height: 600, density: 1 }, 6, 0.5],
    // A scan holds no more than its own pixels, and the two renderers smooth those each in its own way.
    ['scanned', { width: 1024, height: 600, density: 2 }, 10, 0.65],
  ])('%s: bars are cut out and drawn as sharp as the page itself', async (name, size, most, share) => {
    const { page, large } = await standAt(driver, name, size);
    expect(large.scale).toBeGreaterThan(2);
    const [piece] = large.lines[0].pieces;
    const found = await drawnAndExpected(page, name, large, size.density, piece);
    console.log(
      `${name} ${JSON.stringify(size)}: ${JSON.stringify(found)} of 255 at ${large.scale.toFixed(2)}`,
    );
    expect(found.dark).toBeGreaterThan(1000);
    // Mean difference of 255; edges are smoothed differently, a stretched page differs far more.
    expect(found.sharp).toBeLessThan(most);
    expect(found.sharp).toBeLessThan(share * found.stretched);
    await page.close();
  });

  test('one key shows the whole page without its margins, and the same key the bars again', async () => {
    const { page } = await standAt(driver, 'aaba', { width: 1024, height: 600 });
    const { systems } = marksOf('aaba');
    const music = {
      left: Math.min(...systems.map(({ bars }) => bars[0].x0)),
      right: Math.max(...systems.map(({ bars }) => bars.at(-1).x1)),
      top: systems[0].top,
      bottom: systems.at(-1).bottom,
    };
    const pageSeen = () =>
      page.evaluate((music) => {
        const sheet = document.querySelector('.pdfViewer .page').getBoundingClientRect();
        const stand = document.querySelector('.stand-page').getBoundingClientRect();
        const [top, bottom] = [music.top, music.bottom].map((y) => sheet.top + y * sheet.height);
        const [left, right] = [music.left, music.right].map((x) => sheet.left + x * sheet.width);
        return {
          large: document.querySelector('.large') !== null,
          shown: getComputedStyle(document.querySelector('.view')).visibility === 'visible',
          whole: top >= 0 && bottom <= innerHeight && left >= stand.left && right <= stand.right,
          height: sheet.height / innerHeight,
        };
      }, music);
    expect(await pageSeen()).toMatchObject({ large: true, shown: false });
    await page.keyboard.press('KeyW');
    await until(
      pageSeen,
      // Its margins are out of the window: the page itself is higher than that.
      ({ large, shown, whole, height }) => !large && shown && whole && height > 1.05,
      'the whole page is there',
    );
    await page.keyboard.press('KeyW');
    await until(pageSeen, ({ large, shown }) => large && !shown, 'the bars are there again');
    await page.close();
  });

  test('near enough, the page stays as it is printed', async () => {
    const { page } = await standAt(driver, 'aaba', { width: 1440, height: 900 });
    await press(page, 'settings');
    await page.waitForSelector('input[name="distance"]');
    await page.$eval('input[name="distance"]', (input) => {
      input.value = '0.7';
      input.dispatchEvent(new Event('change', { bubbles: true }));
    });
    await page.waitForFunction(() => !document.querySelector('.large'));
    await page.$eval('input[name="distance"]', (input) => {
      input.value = '2';
      input.dispatchEvent(new Event('change', { bubbles: true }));
    });
    await page.waitForFunction(() => document.querySelector('.large'));
    await page.close();
  });

  test.each([
    ['a low window on a sharp screen', { width: 720, height: 450, density: 2 }],
    ['an upright tablet', { width: 834, height: 1194 }],
    ['half a screen', { width: 700, height: 900 }],
  ])('%s: beats run under the bar being played, whose line stays in view', async (_, size) => {
    const name = 'two-pages';
    const { page, large } = await standAt(driver, name, size, 6);
    for (const { pieces } of large.lines)
      for (const { rect } of pieces) {
        expect(rect.left).toBeGreaterThanOrEqual(0);
        expect(rect.right).toBeLessThanOrEqual(large.stand.right);
      }
    const bars = marksOf(name).systems.flatMap((system) =>
      system.bars.map((bar) => ({ ...bar, page: system.page })),
    );
    const count = large.lines.flatMap((line) => line.bars).length;
    expect(count).toBeGreaterThan(2);
    await watchBeats(page);
    await press(page, 'begin');
    await until(
      () => page.evaluate(() => window.strokes.at(-1)?.bar ?? null),
      (bar) => bar === count,
      'the last bar sounds',
      30,
    ).catch(async (error) => {
      throw new Error(`${error.message}; ${JSON.stringify(await readStand(page))}`);
    });
    await press(page, 'pause');
    const strokes = await page.evaluate(() => window.strokes);
    expect([...new Set(strokes.map(({ bar }) => bar))]).toEqual(
      Array.from({ length: count }, (_, i) => i + 1),
    );
    // A4 in CSS px, as the sample is engraved.
    const wide = (595.276 * 96) / 72;
    const view = await readLarge(page);
    const lineOf = (bar) => view.lines.find((line) => line.bars.includes(bar));
    let late = 0;
    for (const { bar, left, right, top, bottom } of strokes) {
      const piece = lineOf(bar).pieces.at(-1);
      const density = size.density ?? 1;
      const x = (share) => piece.rect.left + share * wide * view.scale - piece.source[1] / density;
      expect(left).toBeGreaterThan(x(bars[bar - 1].x0) - 1);
      expect(right).toBeLessThan(x(bars[bar - 1].x1) + 1);
      if (top < 0 || bottom > size.height) late++;
    }
    // While a line is brought in, the bar being played stays where it can be read.
    expect(late).toBe(0);
    await page.close();
  });
});

describe.each(browsers)('a repeat behind the clef, in %s', (browser) => {
  let driver;
  beforeEach(async () => {
    driver = await start(browser, { size: { width: 1024, height: 600 } });
  });
  afterEach(() => driver.close());

  test('its bar is set large with the clef in front, whatever other lines begin with', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    await choose(
      page,
      'input.open-file',
      await pdfFile('repeats', [{ title: 'Low Gate', systems: 2, repeats: () => true }]),
    );
    const [line] = await until(
      async () => (await readLarge(page))?.lines ?? [],
      (lines) => lines[0]?.pieces.length === 2,
      'a clef and a bar are set',
    );
    const [clef, bar] = line.pieces;
    // The clef stands 50 to 70 points from the page's edge, the repeat from 72 on.
    const ink = await page.evaluate((source) => {
      const canvas = document.querySelector(`canvas[data-source="${source}"]`);
      const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
      return data.filter((value, i) => i % 4 === 1 && value < 128).length / (data.length / 4);
    }, clef.source.join(' '));
    expect(ink).toBeGreaterThan(0.2);
    expect(clef.source[1] / bar.source[1]).toBeLessThan(52 / 70);
    expect(clef.source[1] + clef.source[3]).toBeLessThanOrEqual(bar.source[1]);
    await page.close();
  });

  test('a word across a bar line is whole with the bar that has most of it, and gone from the other', async () => {
    const page = await driver.openPage('tunes/index.html');
    await page.waitForSelector('html[data-state="ready"]');
    // The first bar lines stand at 173.75 and 297.5 points; a staff is 24 points high.
    const words = [
      ['mooring', 168],
      ['anchor', 268],
    ];
    await choose(
      page,
      'input.open-file',
      await pdfFile('words', [{ title: 'Long Words', systems: 3, words }]),
    );
    // A bar of the first line is set alone: behind its clef, if it has one, the bar and what goes on beside it.
    const readWords = () =>
      page.evaluate(() => {
        const [bar, ...beside] = [...document.querySelectorAll('.large-line canvas')].filter(
          (canvas, i, all) => !canvas.dataset.source || !all[i + 1]?.dataset.source,
        );
        if (!bar) return null;
        const box = bar.getBoundingClientRect();
        const columns = [bar, ...beside].flatMap((canvas) => {
          const { width, height } = canvas;
          // Words stand in the lowest quarter of what a bar reaches.
          const from = Math.floor(0.75 * height);
          const { data } = canvas.getContext('2d').getImageData(0, from, width, height - from);
          const { left } = canvas.getBoundingClientRect();
          const dark = (i) => data[4 * i + 3] > 0 && data[4 * i + 1] < 128;
          return Array.from({ length: data.length / 4 }, (_, i) => i)
            .filter(dark)
            .map((i) => left + (i % width));
        });
        const { dataset } = document.querySelector('[data-span]');
        const staff = 24 * (96 / 72) * Number(document.querySelector('.large-set').dataset.scale);
        return {
          span: dataset.span,
          words: columns.length > 0,
          left: columns.reduce((most, x) => Math.max(most, box.left - x), 0) / staff,
          right: columns.reduce((most, x) => Math.max(most, x - box.right), 0) / staff,
        };
      });
    const first = await until(readWords, (now) => now?.span === '1', 'bar 1 is set');
    expect(first.words).toBe(false);
    await page.keyboard.press('KeyN');
    // "mooring" begins 5.75 points before its bar line, "anchor" ends some 5 behind its own; a bar shows 2.4 points more.
    await until(
      readWords,
      ({ left, right }) => left > 0.1 && left < 0.3 && right > 0.08 && right < 0.3,
      'bar 2 is set with both words',
    );
    await page.close();
  });
});
