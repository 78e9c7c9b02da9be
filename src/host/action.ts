import browser from 'webextension-polyfill';

export interface ClickedTab {
  readonly id: number | undefined;
  /** Absent where the browser does not tell it. */
  readonly url: string | undefined;
  readonly title: string | undefined;
}

/** The toolbar button was pressed. `clicked` runs inside the gesture: nothing is awaited before it. */
export function onActionClicked(clicked: (tab: ClickedTab) => void): void {
  browser.action.onClicked.addListener((tab) => clicked({ id: tab.id, url: tab.url, title: tab.title }));
}

/** Called once, after the first install; not after updates. */
export function onFirstInstall(installed: () => void): void {
  browser.runtime.onInstalled.addListener(({ reason }) => {
    if (reason === 'install') installed();
  });
}

/** Runs `work` with three dots on the toolbar button, and keeps the background alive meanwhile. */
export async function whileBusy<T>(work: () => Promise<T>): Promise<T> {
  await browser.action.setBadgeText({ text: '…' });
  // A background without events is stopped after about 30 s; a call to the browser starts that anew.
  const alive = setInterval(() => void browser.runtime.getPlatformInfo(), 20_000);
  try {
    return await work();
  } finally {
    clearInterval(alive);
    await browser.action.setBadgeText({ text: '' });
  }
}
