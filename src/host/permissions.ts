import browser from 'webextension-polyfill';

/** Firefox reads a site only after the player has granted it; Chromium reads the clicked tab as it is. */
export const needsGrant = browser.runtime.getURL('').startsWith('moz-extension:');

/** The permission pattern for a whole host: patterns carry no port. Null for what is not http(s). */
export function hostPattern(address: string): string | null {
  if (!URL.canParse(address)) return null;
  const { protocol, hostname } = new URL(address);
  return protocol === 'http:' || protocol === 'https:' ? `${protocol}//${hostname}/*` : null;
}

/**
 * Asks the player for one site. It must be called first thing in a click, before any await: a browser
 * answers only to a gesture, else it tells what was granted before. True without a question where the site is
 * granted already.
 */
export function requestHost(address: string): Promise<boolean> {
  const pattern = hostPattern(address);
  return pattern === null
    ? Promise.resolve(false)
    : browser.permissions.request({ origins: [pattern] }).catch(() => hasHost(address));
}

/** Sites that the player has granted, as patterns, and files if the browser hands them over: 'https://a.example/*'. */
export async function grantedSites(): Promise<string[]> {
  const { origins = [] } = await browser.permissions.getAll();
  return origins.sort();
}

/** Takes a site's grant back; false when the browser keeps it. `pattern` is one of `grantedSites`. */
export function withdraw(pattern: string): Promise<boolean> {
  return browser.permissions.remove({ origins: [pattern] }).catch(() => false);
}

/**
 * Asks for files that are open in tabs, in a click as `requestHost`. False also where the browser's own switch for an
 * extension's access to files is off.
 */
export function requestFiles(): Promise<boolean> {
  return browser.permissions.request({ origins: ['file:///*'] }).catch(() => false);
}

/** Whether that site has been granted. */
export async function hasHost(address: string): Promise<boolean> {
  const pattern = hostPattern(address);
  return pattern !== null && (await browser.permissions.contains({ origins: [pattern] }));
}
