import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startPulse } from '../../src/cli/browsers/pulse.mjs';
import { hashOf, putOnStand } from './drive/charts.mjs';
import { briefly, playClean, press, readStand, shows, start } from './drive/index.mjs';
import { readPasses } from './drive/log.mjs';

describe.each(briefly('firefox'))('the output device goes away in %s', (name) => {
  let pulse, driver;
  beforeAll(async () => {
    pulse = await startPulse();
    driver = await start(name, { pulse: true, env: { PULSE_SERVER: pulse.server } });
  });
  afterAll(async () => {
    await driver.close();
    pulse.stop();
  });

  test('the drill stops, says so, and no pass is counted', async () => {
    // Slow enough that a pass surely sounds while the device goes.
    const { page } = await putOnStand(driver, 'first', { start: 60, goal: 60, streak: 5, joinStreak: 5 });
    await press(page, 'begin');
    await playClean(page, 1);
    await shows(page, { phase: 'playing', tight: 1 });
    pulse.unplug();
    await shows(page, { phase: 'stopped' }, 8);
    const stopped = await readStand(page);
    expect(stopped).toMatchObject({ span: '1', tight: 1, loose: 0 });
    expect(stopped.warnings).toEqual([
      'The sound device went away. Connect it, then press go on: no pass was lost.',
    ]);
    // The pass would long be over, and two more.
    await new Promise((go) => setTimeout(go, 6000));
    expect(await readStand(page)).toMatchObject({ phase: 'stopped', tight: 1, loose: 0 });
    expect(await readPasses(page, hashOf('first'))).toEqual(['clean by nobody', 'void by machine']);

    pulse.plug();
    // No hand is quicker than this; a browser needs a moment to see the device.
    await new Promise((go) => setTimeout(go, 2000));
    await press(page, 'begin');
    await playClean(page, 1);
    expect(await readStand(page)).toMatchObject({ span: '1', tight: 2 });
    await press(page, 'pause');
  });
});

test.each(briefly('firefox'))('where no output is, %s says so', async (name) => {
  const pulse = await startPulse();
  pulse.stop();
  const driver = await start(name, { pulse: true, env: { PULSE_SERVER: pulse.server } });
  const { page } = await putOnStand(driver, 'first', { start: 60, goal: 60, streak: 5, joinStreak: 5 });
  await press(page, 'begin');
  await shows(page, { phase: 'stopped' }, 8);
  expect((await readStand(page)).warnings).toEqual([
    'No sound started. Connect headphones or a loudspeaker, see that this page may sound, then press go on.',
  ]);
  await driver.close();
});
