/** A session that plays itself where there is no display: every step is checked, told and pictured. */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { launch } from './browsers/index.mjs';
import { closeCaution, playClean, press, shows, until } from './browsers/page.mjs';
import { startPulse } from './browsers/pulse.mjs';
import { ensurePrograms, root } from './setup.mjs';

const shots = resolve(root, 'screenshots');

/** Tells a step in one line and takes its picture, bars that are to be set large in their place. */
async function tell(page, number, name, line) {
  const isSet = () => page.evaluate(() => document.querySelector('.large-wanted') === null);
  await until(isSet, Boolean, 'the bars set large');
  const path = join(shots, `${number}-${name}.png`);
  await page.screenshot({ path });
  console.log(`${line} (screenshots/${number}-${name}.png)`);
}

async function firstSitting(driver) {
  const page = await driver.openPage('tunes/index.html');
  await page.waitForSelector('[data-command="begin-sample"]');
  await tell(page, 1, 'first-run', 'Opened: the first page offers a tune to begin with.');
  await press(page, 'begin-sample');
  await shows(page, { state: 'ready', span: '1', tempo: 60, tight: 0 });
  await closeCaution(page);
  await shows(page, { phase: 'playing' });
  await tell(page, 2, 'begun', 'Begun: bar 1 at 60.');
  await playClean(page, 4);
  await tell(page, 3, 'four-clean', 'Four clean: four tight knots.');
  await shows(page, { phase: 'playing' }, 30);
  await press(page, 'slip');
  await shows(page, { tight: 0, loose: 0, span: '1' });
  await tell(page, 4, 'slip', 'A slip: the rope has run out.');
  await shows(page, { phase: 'waiting', loose: 10 }, 240);
  await tell(page, 5, 'ten', 'Ten in a row: the drill waits for a word.');
  await press(page, 'clean');
  await shows(page, { span: '2', tight: 0, loose: 0 });
  await tell(page, 6, 'next-step', 'Clean: the next step is bar 2.');
  await playClean(page, 1);
  await press(page, 'pause');
  await shows(page, { phase: 'paused', tight: 1 });
  return page.evaluate(() => `stand/index.html${location.hash.replace(/&?begin=1/, '')}`);
}

/** Plays the session in `browser`. Throws in one line where a step does not come about. */
export async function play(browser, extension) {
  mkdirSync(shots, { recursive: true });
  // Firefox makes no sound, and keeps no time, on a machine without a card.
  const silent = browser === 'firefox' && process.platform === 'linux' && ensurePrograms(['pulseaudio']);
  const pulse = silent ? await startPulse() : null;
  const env = pulse ? { PULSE_SERVER: pulse.server } : {};
  const profile = mkdtempSync(join(tmpdir(), 'holdfast-session-'));
  const options = { extension, profile, env, size: { width: 1440, height: 900 } };
  let driver;
  try {
    console.log(`No display: playing a session in ${browser}, about three minutes.`);
    driver = await launch(browser, options);
    const stand = await firstSitting(driver);
    await driver.close();
    console.log('Restarted: the browser was closed and started again.');
    driver = await launch(browser, options);
    const page = await driver.openPage(stand);
    await shows(page, { state: 'ready', span: '2', tempo: 60, tight: 1 });
    await tell(page, 7, 'resumed', 'Resumed: bar 2 at 60, one in a row, as it was left.');
  } finally {
    await driver?.close().catch(() => undefined);
    pulse?.stop();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
}
