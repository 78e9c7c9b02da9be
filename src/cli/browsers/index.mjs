/** One way to drive both browsers with the built extension in them. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { launchChromium } from './chromium.mjs';
import { launchFirefox } from './firefox.mjs';

/**
 * @typedef {object} Launch
 * @property {string} extension  folder of the built extension
 * @property {string} [profile]  kept after closing; a fresh one, removed at the end, when left out
 * @property {boolean} [headless]  true unless said
 * @property {{ width: number, height: number } | null} [size]  of the page, CSS px; null follows the window
 * @property {number} [ratio]  device pixels per CSS px
 * @property {Record<string, string>} [env]  e.g. PULSE_SERVER
 * @property {Record<string, unknown>} [prefs]  of Firefox
 * @property {string[]} [args]
 */

/**
 * Waits for the page that a new extension opens by itself and closes it; where it led, null when none came. To
 * both browsers the extension is new at every start, and on a busy machine the page may take its time: left to
 * come later, it would open before the page that is being driven and hide it.
 */
async function firstRun(driver) {
  const end = performance.now() + 20_000;
  while (performance.now() < end) {
    // A tab that is just being made has no page yet.
    const [page] = await driver.ownPages().catch(() => []);
    const path = page && (await page.evaluate(() => location.pathname).catch(() => ''));
    if (path) {
      // A browser without any tab ends.
      await driver.browser.newPage();
      await page.close();
      return path.slice(1);
    }
    await sleep(100);
  }
  return null;
}

/**
 * Starts a browser with the extension.
 * @param {'chromium' | 'firefox'} name
 * @param {Launch} options
 * @returns an object with `browser` (puppeteer's), `base` (address of the extension's pages), `openPage(path)`,
 * `firstPage` (the page it opened by itself when it was new), `clickAction(page)`, `grantHost(pattern)`, `ownPages()`, `kill()` (SIGKILL to the whole group) and `close()`.
 */
export async function launch(name, options) {
  const profile = options.profile ?? mkdtempSync(join(tmpdir(), `holdfast-${name}-`));
  const start = name === 'chromium' ? launchChromium : launchFirefox;
  const size = options.size === undefined ? { width: 1280, height: 800 } : options.size;
  const driver = await start({ headless: true, ...options, size, profile });
  const firstPage = await firstRun(driver);
  const tidy = () => {
    if (options.profile === undefined) rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  };
  return {
    ...driver,
    firstPage,
    async openPage(path) {
      // Seen once on a busy machine: the tab was exchanged while puppeteer asked it something ("detached Frame").
      const page = await driver.openPage(path).catch(() => driver.openPage(path));
      // A page behind another is not drawn.
      await page.bringToFront();
      return page;
    },
    name,
    profile,
    async kill() {
      const child = driver.browser.process();
      const gone = new Promise((done) => child.once('exit', done));
      try {
        // Puppeteer starts the browser as the leader of a group of its own.
        process.kill(process.platform === 'win32' ? child.pid : -child.pid, 'SIGKILL');
      } catch {
        child.kill('SIGKILL');
      }
      await gone;
      tidy();
    },
    async close() {
      await driver.browser.close();
      tidy();
    },
  };
}
