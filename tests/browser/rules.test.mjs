import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hashOf, played, putOnStand } from './drive/charts.mjs';
import { briefly, playClean, press, readStand, shows, start, until } from './drive/index.mjs';
import { readPasses } from './drive/log.mjs';

const numbers = { start: 240, goal: 240, streak: 3, joinStreak: 3 };

describe.each(briefly('chromium'))('rules of the drill in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name);
  });
  afterAll(() => driver.close());

  test('one at a time: each pass ends with its verdict, and none begins before it', async () => {
    const { page } = await putOnStand(driver, 'waltz', numbers);
    await press(page, 'settings');
    await page.select('dialog select', 'one-at-a-time');
    await page.click('dialog button.first');
    await press(page, 'begin');
    await shows(page, { phase: 'asking', loose: 1 }, 30);
    // A pass at this tempo and its gap are over long before.
    await new Promise((go) => setTimeout(go, 6000));
    expect(await readPasses(page, hashOf('waltz'))).toHaveLength(1);
    await press(page, 'clean');
    await shows(page, { tight: 1, loose: 0 });
    await shows(page, { phase: 'asking', tight: 1, loose: 1 }, 30);
    await press(page, 'slip');
    await shows(page, { tight: 0, loose: 0, span: '1' });
    for (const tight of [1, 2]) {
      await shows(page, { phase: 'asking', loose: 1 }, 30);
      await press(page, 'clean');
      await shows(page, { tight, loose: 0 });
    }
    await shows(page, { phase: ['asking', 'waiting'], loose: 1 }, 30);
    await press(page, 'clean');
    await shows(page, { span: '2', tight: 0, loose: 0 });
    await press(page, 'pause');
    await press(page, 'settings');
    await page.select('dialog select', 'rolling');
    await page.click('dialog button.first');
    await page.close();
  });

  test('a pause in mid-pass is the one void of its streak, the next one a slip', async () => {
    const { page } = await putOnStand(driver, 'endings', { ...numbers, start: 120, goal: 120, streak: 6 });
    await press(page, 'begin');
    await playClean(page, 2);
    await shows(page, { phase: 'playing', tight: 2 });
    await new Promise((go) => setTimeout(go, 300));
    await press(page, 'pause');
    await shows(page, { phase: 'paused', tight: 2, loose: 0 });
    expect((await readPasses(page, hashOf('endings'))).at(-1)).toBe('void by player');
    await press(page, 'begin');
    await shows(page, { phase: 'playing', tight: 2 });
    await new Promise((go) => setTimeout(go, 300));
    await press(page, 'pause');
    await shows(page, { phase: 'paused', tight: 0, loose: 0, span: '1' });
    expect((await readPasses(page, hashOf('endings'))).at(-1)).toBe('slip by nobody');
    await page.close();
  });

  test.each([
    ['clean', { tight: 3, loose: 0 }],
    ['slip', { tight: 0, loose: 0 }],
    [null, { tight: 0, loose: 4 }],
  ])('after a night the knots are loose until the first pass, cold: %s', async (word, then) => {
    const chart = { clean: 'scanned', slip: 'two-pages', null: 'aaba' }[word];
    const lastNight = [played(chart, numbers, 'clean'), played(chart, numbers, 'clean')];
    const { page } = await putOnStand(driver, chart, { ...numbers, streak: 6 }, lastNight);
    await shows(page, { tight: 0, loose: 2, span: '1' });
    const says = () => page.$eval('.drill-foot', (foot) => foot.textContent);
    expect(await says()).toContain('A cold pass first');
    await press(page, 'begin');
    await shows(page, { phase: 'playing', loose: 2 });
    if (word === 'slip') await press(page, 'slip');
    else await shows(page, { loose: 3 }, 30);
    if (word === 'clean') await press(page, 'clean');
    await shows(page, then, 30);
    await press(page, 'pause');
    const passes = await readPasses(page, hashOf(chart));
    expect(passes[2]).toBe(word === 'slip' ? 'cold slip by touch' : 'cold clean by nobody');
    await page.close();
  });

  const isWall = async (page) => {
    expect(await page.$eval('.drill-offer', (offer) => offer.textContent)).toContain('wall');
    // A wall names itself and sounds no more.
    await new Promise((go) => setTimeout(go, 5000));
    await shows(page, { phase: 'wall', span: '1' });
  };

  test('thirty passes and no three in a row: a wall, with a way down and a way round', async () => {
    const before = Array.from({ length: 29 }, () => played('first', numbers, 'slip'));
    const { page } = await putOnStand(driver, 'first', numbers, before);
    await press(page, 'begin');
    await shows(page, { phase: 'playing' }, 30);
    await press(page, 'slip');
    await shows(page, { phase: 'wall' });
    await isWall(page);
    await press(page, 'wall-slower');
    await shows(page, { phase: 'playing', span: '1', tempo: 230 }, 30);
    await press(page, 'pause');
    await page.close();
  });

  test.runIf(process.env.HOLDFAST_LONG)(
    'thirty live slips are a wall; left open, the ladder goes on',
    async () => {
      const { page } = await putOnStand(driver, 'rotated', numbers);
      await press(page, 'begin');
      for (let i = 0; i < 30; i++) {
        await shows(page, { phase: 'playing' }, 30);
        await press(page, 'slip');
        await until(
          () => readPasses(page, hashOf('rotated')),
          (passes) => passes.length === i + 1,
          `slip ${i + 1} is kept`,
        );
      }
      await shows(page, { phase: 'wall' });
      await isWall(page);
      await press(page, 'wall-leave');
      await shows(page, { phase: 'playing', span: '2', tempo: 240 }, 30);
      await press(page, 'pause');
      await page.close();
    },
  );
});
