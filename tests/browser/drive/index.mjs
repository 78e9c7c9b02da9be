/** Starts a browser with the built extension for a test; what is then said to its pages is in page.mjs. */
import { resolve } from 'node:path';
import { launch } from '../../../src/cli/browsers/index.mjs';
import { until } from '../../../src/cli/browsers/page.mjs';

export * from '../../../src/cli/browsers/page.mjs';

const root = resolve(import.meta.dirname, '../../..');
export const extension = resolve(root, process.env.HOLDFAST_DIST ?? 'dist');
export const browsers = (process.env.HOLDFAST_BROWSERS ?? 'chromium,firefox').split(',');
/** All browsers in the long run; in every run only these, where another one would cost more than it tells. */
export const briefly = (...names) =>
  browsers.filter((name) => process.env.HOLDFAST_LONG || names.includes(name));
export const sample = (file) => resolve(root, 'sample-pdfs', file);

/**
 * Starts a browser with the built extension. Firefox plays into the run's sound server; Chromium runs its clock
 * without one, sooner, unless `pulse` asks for it.
 */
export const start = (name, { pulse = name === 'firefox', env, ...options } = {}) =>
  launch(name, { extension, env: { ...(pulse ? {} : { PULSE_SERVER: undefined }), ...env }, ...options });

/** The lines that say what went wrong, as they stand on the page. */
export const linesOf = (page) =>
  page.evaluate(() => [...document.querySelectorAll('.warning')].map((line) => line.textContent.trim()));

/** Where a page is, as the extension names its pages. */
export const addressOf = (page) => page.evaluate(() => location.pathname + location.hash);

/** The extension's page whose address is as wanted. */
export async function pageThat(driver, wanted, what) {
  let found = null;
  await until(
    async () => {
      for (const page of await driver.ownPages())
        if (wanted(await addressOf(page).catch(() => ''))) found = page;
      return found !== null;
    },
    Boolean,
    what,
  );
  return found;
}

/** Firefox's viewer names the tab of a file once it has read it, and the window hears of it last. */
export async function named(driver, tab) {
  await tab.bringToFront();
  if (driver.inWindow)
    await until(
      () => driver.inWindow('gBrowser.selectedTab.label'),
      (title) => title.endsWith('.pdf'),
      'the tab is named',
    );
}

/**
 * Chooses our entry in the menu of the link `selector`. Firefox: a right click and the menu itself. Chromium draws its
 * menu outside of what can be driven: its event is sent to the background, for an entry that has to be there.
 */
export async function chooseInMenu(driver, tab, selector) {
  await tab.bringToFront();
  if (driver.inWindow) {
    await tab.click(selector, { button: 'right' });
    const press = `(() => {
      const menu = document.getElementById('contentAreaContextMenu');
      const entry = menu.state === 'open' && menu.querySelector('[id$="_open-link"]');
      if (!entry) return false;
      menu.activateItem(entry);
      return true;
    })()`;
    await until(() => driver.inWindow(press), Boolean, 'the menu has our entry');
    return;
  }
  const link = await tab.$eval(selector, (element) => element.href);
  const target = await driver.browser.waitForTarget((each) => each.type() === 'service_worker');
  const worker = await target.worker();
  await worker.evaluate(
    async (linkUrl, pageUrl) => {
      await globalThis.chrome.contextMenus.update('open-link', { contexts: ['link'] });
      const [shown] = await globalThis.chrome.tabs.query({ active: true });
      globalThis.chrome.contextMenus.onClicked.dispatch({ menuItemId: 'open-link', linkUrl, pageUrl }, shown);
    },
    link,
    tab.url(),
  );
}
