import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hashOf, putOnStand } from './drive/charts.mjs';
import { briefly, playClean, press, readStand, shows, start, until } from './drive/index.mjs';
import { readLog } from './drive/log.mjs';

const elsewhere = 'This chart is being drilled in another window. Close that one, then press go on.';

describe.each(briefly('chromium'))('the stand open twice in %s', (name) => {
  let driver;
  beforeAll(async () => {
    driver = await start(name);
  });
  afterAll(() => driver.close());

  test('one writes, the other follows and cannot; the writer closed, the other takes over', async () => {
    const numbers = { start: 240, goal: 240, streak: 4, joinStreak: 4 };
    const { page: writer, path } = await putOnStand(driver, 'first', numbers);
    const follower = await driver.openPage(path);
    await shows(follower, { state: 'ready', tight: 0, span: '1' });
    const warned = async () => (await readStand(follower)).warnings;
    expect(await warned()).toHaveLength(1);

    // Drilling goes on only in sight; the one behind hears of each commit all the same.
    await writer.bringToFront();
    await press(writer, 'begin');
    await playClean(writer, 2);
    await shows(follower, { tight: 2, loose: 0 });
    await press(writer, 'pause');
    await shows(writer, { phase: 'paused' });

    await follower.bringToFront();
    const before = await readLog(follower, hashOf('first'));
    await press(follower, 'begin');
    await until(warned, (lines) => lines.includes(elsewhere), 'the follower says why not');
    for (const key of ['Enter', ' ', 'c', 'n', 'Backspace']) await follower.keyboard.press(key);
    await press(follower, 'undo');
    await press(follower, 'skip');
    await new Promise((go) => setTimeout(go, 1500));
    expect(await readLog(follower, hashOf('first'))).toEqual(before);
    await shows(follower, { tight: 2, span: '1' });

    await writer.close();
    await until(warned, (lines) => lines.every((line) => line === elsewhere), 'the follower may write');
    await press(follower, 'begin');
    await playClean(follower, 1);
    const passes = (await readLog(follower, hashOf('first'))).filter(({ type }) => type === 'pass');
    // Two places of one streak by the first stand, then this one's own sitting.
    expect(passes.at(-1).sitting).not.toBe(passes[0].sitting);
    await shows(follower, { tight: 3, span: '1' });
    await press(follower, 'pause');
    await follower.close();
  });
});
