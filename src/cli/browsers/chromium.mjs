/** Chromium with the unpacked extension, driven by puppeteer. */
import puppeteer from 'puppeteer-core';
import { findBrowser } from './find.mjs';

const flags = [
  '--no-first-run',
  '--disable-quic',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
/** Without a sandbox for root, who has none to give; without a GPU when nobody looks. */
const forced = (headless) => [
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  ...(headless ? ['--disable-gpu'] : []),
];

/** Starts Chromium; see `launch` in index.mjs for what comes back. */
export async function launchChromium({
  extension,
  profile,
  headless,
  size,
  ratio,
  env,
  prefs: _prefs,
  args = [],
}) {
  const browser = await puppeteer.launch({
    executablePath: findBrowser('chromium') ?? undefined,
    headless,
    userDataDir: profile,
    pipe: true,
    enableExtensions: [extension],
    defaultViewport: size && { ...size, deviceScaleFactor: ratio },
    env: { ...process.env, ...env },
    args: [...flags, ...forced(headless), ...args],
  });
  const worker = await browser.waitForTarget((target) => target.type() === 'service_worker');
  const id = new URL(worker.url()).host;
  const base = `chrome-extension://${id}/`;
  return {
    browser,
    base,
    /** Opens a page of the extension: 'tunes/index.html', 'stand/index.html#…'. */
    async openPage(path) {
      const page = await browser.newPage();
      await page.goto(base + path);
      return page;
    },
    /** The toolbar button, pressed on this tab as a player would. */
    async clickAction(page) {
      const me = [...(await browser.extensions()).values()].find((extension) => extension.id === id);
      await page.triggerExtensionAction(me);
    },
    /** Grants a site beforehand, so that no prompt comes up. */
    async grantHost(pattern) {
      const page = await browser.newPage();
      await page.goto('chrome://extensions');
      await page.evaluate((i, h) => globalThis.chrome.developerPrivate.addHostPermission(i, h), id, pattern);
      await page.close();
    },
    /** Pages of the extension that are open, oldest first. */
    async ownPages() {
      return (await browser.pages()).filter((page) => page.url().startsWith(base));
    },
  };
}
