import browser from 'webextension-polyfill';

/** Firefox reads a site only after the player has granted it; Chromium reads the clicked tab as it is. */
export const needsGrant = browser.runtime.getURL('').startsWith('moz-extension:');

/** The pattern of files that are open in tabs. */
export const FILES = 'file:///*';

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

/**
 * Whether the player took this back and has to be asked by us before the browser is: Chromium gives again without a
 * question what an extension once held; Firefox asks.
 * @param taken patterns that were taken back here
 * @param pattern of a host, or `FILES`; null is no site
 */
export const isTakenBack = (taken: readonly string[], pattern: string | null): boolean =>
  !needsGrant && pattern !== null && taken.includes(pattern);

/** Calls back when a site was granted or taken back, here or in the browser's own settings. */
export function onGrants(changed: () => void, signal: AbortSignal): void {
  const { onAdded, onRemoved } = browser.permissions;
  for (const event of [onAdded, onRemoved]) {
    event.addListener(changed);
    signal.addEventListener('abort', () => event.removeListener(changed), { once: true });
  }
}

/** Whether the browser's own switch lets us read files from tabs at all; false where it never hands one over. */
export const mayReadFiles = async (): Promise<boolean> =>
  !needsGrant && (await browser.extension.isAllowedFileSchemeAccess());

/** Takes a site's grant back; false when the browser keeps it. `pattern` is one of `grantedSites`. */
export function withdraw(pattern: string): Promise<boolean> {
  return browser.permissions.remove({ origins: [pattern] }).catch(() => false);
}

/**
 * Asks for files that are open in tabs, in a click as `requestHost`. False also where the browser's own switch for an
 * extension's access to files is off.
 */
export function requestFiles(): Promise<boolean> {
  return browser.permissions.request({ origins: [FILES] }).catch(() => false);
}

/** Whether that site has been granted. */
export async function hasHost(address: string): Promise<boolean> {
  const pattern = hostPattern(address);
  return pattern !== null && (await browser.permissions.contains({ origins: [pattern] }));
}
