/** Firefox with the extension as a temporary add-on, driven by puppeteer over WebDriver BiDi. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import puppeteer from 'puppeteer-core';
import { findBrowser } from './find.mjs';

/** Firefox gives every install another address unless told; data lives under the address. */
const uuid = '2f0c5a44-9d3e-4c1b-8a57-61d4f0b7e2c9';

/** Starts Firefox; see `launch` in index.mjs for what comes back. */
export async function launchFirefox({
  extension,
  profile,
  headless,
  size,
  ratio,
  env,
  prefs = {},
  args = [],
}) {
  const id = JSON.parse(readFileSync(join(extension, 'manifest.json'), 'utf8')).browser_specific_settings
    .gecko.id;
  const start = () =>
    puppeteer.launch({
      browser: 'firefox',
      executablePath: findBrowser('firefox') ?? undefined,
      headless,
      userDataDir: profile,
      defaultViewport: null,
      env: { ...process.env, ...env },
      // The flag opens moz-extension: addresses and the browser's own window to the driver.
      args: [
        '--remote-allow-system-access',
        ...(size ? [`--width=${size.width}`, `--height=${size.height}`] : []),
        ...args,
      ],
      extraPrefsFirefox: {
        'extensions.webextensions.uuids': JSON.stringify({ [id]: uuid }),
        'extensions.webextOptionalPermissionPrompts': false,
        ...(ratio === undefined ? {} : { 'layout.css.devPixelsPerPx': String(ratio) }),
        ...prefs,
      },
    });
  // After a kill the first start of the same profile may find its lock or user.js half written.
  const browser = await start().catch(start);
  await browser.installExtension(extension);
  const base = `moz-extension://${uuid}/`;

  /** Evaluates in the browser's own window. `connection` is internal to puppeteer, whose version is pinned. */
  async function inWindow(expression) {
    const { connection } = browser;
    const { result: tree } = await connection.send('browsingContext.getTree', { 'moz:scope': 'chrome' });
    const window = tree.contexts.find((context) => context.url.includes('browser.xhtml'));
    const { result } = await connection.send('script.evaluate', {
      expression,
      target: { context: window.context },
      awaitPromise: true,
    });
    if (result.type !== 'success') throw new Error(result.exceptionDetails.text);
    return result.result.value;
  }
  return {
    browser,
    base,
    inWindow,
    async openPage(path) {
      const page = await browser.newPage();
      // Waiting for a load event of a moz-extension: page never ends.
      await page.goto(base + path, { waitUntil: [] });
      await page.waitForFunction(
        (address) => location.href.startsWith(address) && document.readyState === 'complete',
        {},
        base,
      );
      if (size) await page.setViewport({ ...size, deviceScaleFactor: 1 }).catch(() => undefined);
      return page;
    },
    async clickAction(page) {
      await page.bringToFront();
      await inWindow(`(async () => {
        const { ExtensionParent } = ChromeUtils.importESModule('resource://gre/modules/ExtensionParent.sys.mjs');
        const extension = WebExtensionPolicy.getByID(${JSON.stringify(id)}).extension;
        await ExtensionParent.apiManager.global.browserActionFor(extension).triggerAction(window);
      })()`);
    },
    /** Prompts are off in this profile: a request is granted as it is made. */
    async grantHost() {},
    async ownPages() {
      const pages = await browser.pages();
      const here = await Promise.all(pages.map((page) => page.evaluate(() => location.href).catch(() => '')));
      return pages.filter((_, i) => here[i].startsWith(base));
    },
  };
}
