import browser from 'webextension-polyfill';
import { t } from './i18n.ts';

const OPEN_LINK = 'open-link';

/**
 * The entry in the menu of links was chosen. `clicked` runs inside the gesture: nothing is awaited before it. `page`
 * is the tab that the link stands on, where the browser tells its address.
 */
export function onLinkChosen(clicked: (link: string, page: { id?: number; url?: string }) => void): void {
  // Browsers keep a menu for a background that sleeps: it is made once a version.
  browser.runtime.onInstalled.addListener(() => {
    void browser.contextMenus.removeAll().then(() =>
      browser.contextMenus.create({
        id: OPEN_LINK,
        title: t('menu_open_link'),
        contexts: ['link'],
        targetUrlPatterns: ['http://*/*', 'https://*/*', 'file:///*'],
      }),
    );
  });
  browser.contextMenus.onClicked.addListener(({ menuItemId, linkUrl, pageUrl }, tab) => {
    if (menuItemId !== OPEN_LINK || linkUrl === undefined) return;
    const url = pageUrl ?? tab?.url;
    clicked(linkUrl, {
      ...(tab?.id === undefined ? {} : { id: tab.id }),
      ...(url === undefined ? {} : { url }),
    });
  });
}
