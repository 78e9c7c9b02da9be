/** The tunes page as a player uses it. */
import { expect } from 'vitest';
import { linesOf, until } from './index.mjs';

export async function openTunes(driver) {
  const page = await driver.openPage('tunes/index.html');
  await page.waitForSelector('html[data-state="ready"]');
  return page;
}

/** Types an address on the tunes page and sends it. */
export async function typeAddress(driver, address) {
  const page = await openTunes(driver);
  await page.click('.open-chart > button');
  await page.type('#address', address);
  await page.keyboard.press('Enter');
  return page;
}

/** Does what makes Firefox ask for a site, and refuses as the player would; no other browser's question can be reached. */
export async function refuseSite(driver, work) {
  const prompts = (on) =>
    driver.inWindow(`Services.prefs.setBoolPref('extensions.webextOptionalPermissionPrompts', ${on})`);
  const refuse = `(() => {
    const prompt = document.getElementById('addon-webext-permissions-notification');
    if (!prompt?.isConnected || PopupNotifications.panel.state !== 'open') return false;
    prompt.secondaryButton.click();
    return true;
  })()`;
  await prompts(true);
  try {
    const page = await work();
    await until(() => driver.inWindow(refuse), Boolean, 'the browser asks for the site');
    return page;
  } finally {
    await prompts(false);
  }
}

/** The one line that says what went wrong. */
export async function lineOf(page, seconds = 20) {
  const lines = await until(
    () => linesOf(page),
    (now) => now.length > 0,
    'a line is shown',
    seconds,
  );
  expect(lines).toHaveLength(1);
  return lines[0];
}
