import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { putOnStand } from './drive/charts.mjs';
import { browsers, closeCaution, playClean, press, readStand, shows, start, until } from './drive/index.mjs';

const fast = { start: 240, goal: 240 };
const three = { ...fast, streak: 3, joinStreak: 3 };

/** Times, in ms of the page, at which the drill changed its phase. */
const watchPhases = (page) =>
  page.evaluate(() => {
    window.phases = [];
    const note = () => {
      const phase = document.querySelector('[data-phase]')?.dataset.phase;
      if (phase && phase !== window.phases.at(-1)?.phase)
        window.phases.push({ phase, at: performance.now() });
    };
    note();
    new MutationObserver(note).observe(document.body, {
      subtree: true,
      childList: true,
      attributes: true,
      attributeFilter: ['data-phase'],
    });
  });

describe.each(browsers)('the loop in %s', (name) => {
  const profile = mkdtempSync(join(tmpdir(), `loop-${name}-`));
  let driver;
  beforeAll(async () => {
    driver = await start(name, { profile });
  });
  afterAll(async () => {
    await driver.close();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  });

  test('a newcomer is drilling bar 1 within ten seconds', async () => {
    expect(driver.firstPage).toBe('tunes/index.html');
    const began = performance.now();
    const page = await driver.openPage('tunes/index.html');
    await press(page, 'begin-sample');
    await until(
      () => readStand(page),
      (now) => now.state === 'ready' && now.span === '1',
      'bar 1 is on the stand',
    );
    await closeCaution(page);
    await shows(page, { phase: 'playing', from: 0, to: 0, tempo: 60, places: 10 });
    expect((performance.now() - began) / 1000).toBeLessThan(10);
    await press(page, 'pause');
    await shows(page, { phase: 'paused' });
    await page.close();
  });

  test('nine clean, a slip: zero; ten clean: bar 2; its ten: bars 1–2', async () => {
    const { page } = await putOnStand(driver, 'aaba', fast);
    await shows(page, { span: '1', places: 10, tempo: 240, tight: 0, loose: 0 });
    await press(page, 'begin');
    await playClean(page, 9);
    await shows(page, { phase: 'playing', tight: 9 });
    await press(page, 'slip');
    await shows(page, { tight: 0, loose: 0, span: '1' });
    await playClean(page, 10);
    await shows(page, { span: '2', from: 1, to: 1, tight: 0, loose: 0 });
    await playClean(page, 10);
    await shows(page, { from: 0, to: 1, tight: 0, loose: 0 });
    expect((await readStand(page)).span).toBe('1–2');
    await press(page, 'pause');
    await page.close();
  }, 300_000);

  test('rolling: an empty room earns nothing, a press tightens', async () => {
    const { page } = await putOnStand(driver, 'waltz', three);
    await press(page, 'begin');
    await shows(page, { phase: 'waiting', loose: 3, tight: 0, span: '1' }, 40);
    // Two more passes would have gone by.
    await new Promise((go) => setTimeout(go, 8000));
    expect(await readStand(page)).toMatchObject({ phase: 'waiting', loose: 3, tight: 0, span: '1' });
    await press(page, 'clean');
    await shows(page, { span: '2', loose: 0, tight: 0 });
    await press(page, 'pause');
    await page.close();
  });

  test('a slip in mid-pass starts again in time', async () => {
    const { page } = await putOnStand(driver, 'endings', three);
    await watchPhases(page);
    await press(page, 'begin');
    await playClean(page, 1);
    await shows(page, { phase: 'playing', tight: 1 });
    await new Promise((go) => setTimeout(go, 350));
    await press(page, 'slip');
    await shows(page, { tight: 0, loose: 0 });
    await shows(page, { phase: 'playing' });
    const phases = await page.evaluate(() => window.phases);
    const starts = phases.filter(({ phase }) => phase === 'playing').map(({ at }) => at);
    // Four beats at 240 are a bar of 1000 ms: every start is a whole number of bars after the first.
    const bars = (starts.at(-1) - starts.at(-2)) / 1000;
    expect(bars).toBeGreaterThan(3.8);
    expect(bars).toBeLessThan(6.2);
    expect(Math.abs(bars - Math.round(bars))).toBeLessThan(0.12);
    await press(page, 'pause');
    await page.close();
  });

  test('undo takes the last verdict back', async () => {
    const { page } = await putOnStand(driver, 'scanned', three);
    await press(page, 'begin');
    await playClean(page, 2);
    await shows(page, { phase: 'playing', tight: 2 });
    await press(page, 'slip');
    await shows(page, { tight: 0 });
    await press(page, 'pause');
    await shows(page, { phase: 'paused' });
    await press(page, 'undo');
    await shows(page, { tight: 2, span: '1' });
    await page.close();
  });

  test('after SIGKILL on a shown verdict: the same step, the same streak', async () => {
    const { page, path } = await putOnStand(driver, 'two-pages', three);
    await press(page, 'begin');
    await playClean(page, 3);
    await playClean(page, 2);
    await driver.kill();
    driver = await start(name, { profile });
    const again = await driver.openPage(path);
    await shows(again, { state: 'ready', span: '2', from: 1, to: 1, tempo: 240, tight: 2, loose: 0 });
    await press(again, 'begin');
    await playClean(again, 1);
    await shows(again, { from: 0, to: 1, tight: 0 });
    await press(again, 'pause');
    await again.close();
  });
});
