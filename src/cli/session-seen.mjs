/** The player's own session: a window on the sample chart, its profile kept from one start to the next. */
import { mkdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { launch } from './browsers/index.mjs';
import { press, until } from './browsers/page.mjs';
import { root } from './setup.mjs';

/** Opens `browser` and stays until it is closed. */
export async function play(browser, extension) {
  const profile = resolve(root, '.profiles', browser);
  mkdirSync(profile, { recursive: true });
  const driver = await launch(browser, { extension, profile, headless: false, size: null });
  const page = await driver.openPage('tunes/index.html');
  await page.waitForSelector('html[data-state="ready"]');
  if (await page.$('[data-command="begin-sample"]')) {
    await press(page, 'begin-sample');
    await until(
      () => page.evaluate(() => location.pathname + document.documentElement.dataset.state),
      (now) => now.endsWith('stand/index.htmlready'),
      'the sample chart is on the stand',
    );
    // Nobody has pressed anything yet: the click waits for the player.
    await page.evaluate(() => {
      location.hash = location.hash.replace(/&?begin=1/, '');
      // After the answer: a page that goes while it is asked takes the answer with it.
      setTimeout(() => location.reload());
    });
  }
  console.log(`${browser} is open with the extension. What you play is kept in .profiles/${browser}.`);
  await new Promise((closed) => driver.browser.once('disconnected', closed));
}
