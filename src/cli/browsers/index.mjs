/** One way to drive both browsers with the built extension in them. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
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
 * Starts a browser with the extension.
 * @param {'chromium' | 'firefox'} name
 * @param {Launch} options
 * @returns an object with `browser` (puppeteer's), `base` (address of the extension's pages), `openPage(path)`,
 * `clickAction(page)`, `grantHost(pattern)`, `ownPages()`, `kill()` (SIGKILL to the whole group) and `close()`.
 */
export async function launch(name, options) {
  const profile = options.profile ?? mkdtempSync(join(tmpdir(), `holdfast-${name}-`));
  const start = name === 'chromium' ? launchChromium : launchFirefox;
  const size = options.size === undefined ? { width: 1280, height: 800 } : options.size;
  const driver = await start({ headless: true, ...options, size, profile });
  const tidy = () => {
    if (options.profile === undefined) rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  };
  return {
    ...driver,
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
