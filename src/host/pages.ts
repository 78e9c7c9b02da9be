import browser from 'webextension-polyfill';

export type Page = 'stand' | 'tunes' | 'opener';

const paths: Record<Page, string> = {
  stand: 'stand/index.html',
  tunes: 'tunes/index.html',
  opener: 'background/opener.html',
};

/** The address of one of our own pages; `params` go into its fragment, which no server ever sees. */
export function pageUrl(page: Page, params: Readonly<Record<string, string>> = {}): string {
  const fragment = new URLSearchParams(params).toString();
  return browser.runtime.getURL(paths[page]) + (fragment && `#${fragment}`);
}

/** How the stand is told of a chart, and of the page of it that an address asked for. */
export const standParams = (chart: string, page: number | null): Record<string, string> => ({
  chart,
  ...(page === null ? {} : { page: String(page) }),
});

/** Opens one of our pages in a tab of its own, beside `tabId` when given. */
export async function openPage(
  page: Page,
  params: Readonly<Record<string, string>> = {},
  besideTab?: number,
): Promise<void> {
  const place = besideTab === undefined ? {} : { openerTabId: besideTab };
  await browser.tabs.create({ url: pageUrl(page, params), ...place });
}

/** The address of a file packed with the extension. */
export function packedUrl(path: string): string {
  return browser.runtime.getURL(path);
}

/** What stands in this page's fragment. */
export function pageParams(hash: string): URLSearchParams {
  return new URLSearchParams(hash.replace(/^#/, ''));
}
