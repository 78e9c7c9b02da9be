import type { ElementHandle, Page } from 'puppeteer-core';
import { until } from './driver.ts';

/** What is read from the stand once a file has been handed over. */
export interface Opened {
  readonly opened: boolean;
  readonly pages: number;
  readonly bars: number;
  /** The line that the player reads when it did not open. */
  readonly message: string | null;
  readonly ms: number | null;
  /** Width and height of the view in CSS px and the scale of its first page, for the bare viewer. */
  readonly like: readonly [width: number, height: number, scale: number] | null;
}

/** Longest time that a file may take to open or to be refused, s. */
const PATIENCE = 90;

/** A page that is hidden, by the tab of a first run say, is not drawn: no browser draws what nobody sees. */
async function toFront(page: Page): Promise<void> {
  if (await page.evaluate(() => document.hidden)) await page.bringToFront();
}

async function give(page: Page, file: string): Promise<void> {
  await toFront(page);
  const input = (await page.waitForSelector('input.open-file')) as ElementHandle<HTMLInputElement>;
  await input.evaluate((element) => {
    element.addEventListener(
      'change',
      () => sessionStorage.setItem('handed-over', String(performance.timeOrigin + performance.now())),
      { capture: true, once: true },
    );
  });
  await input.uploadFile(file);
}

/** Chooses a file on the tunes page and waits for the stand, or for the line that says why not. */
export async function openOnStand(page: Page, file: string): Promise<Opened> {
  await give(page, file);
  const read = async (): Promise<Opened> => {
    await toFront(page);
    return page.evaluate(() => {
      const stand = document.querySelector('#stand') !== null;
      const state = document.documentElement.dataset.state;
      const mark = performance.getEntriesByName('first-page')[0]?.startTime ?? null;
      const ready = stand && state === 'ready' && mark !== null;
      const line = document.querySelector('.warning');
      const view = document.querySelector('.view');
      const first = document.querySelector<HTMLElement>('.page');
      const given = Number(sessionStorage.getItem('handed-over'));
      return {
        opened: ready,
        pages: ready ? document.querySelectorAll('.page').length : 0,
        bars: ready ? Number(document.getElementById('stand')?.dataset['bars'] ?? 0) : 0,
        message: ready || (stand && state === 'loading') ? null : (line?.textContent.trim() ?? null),
        ms: ready ? performance.timeOrigin + mark - given : null,
        like:
          ready && view && first
            ? ([
                view.clientWidth,
                view.clientHeight,
                Number(getComputedStyle(first).getPropertyValue('--scale-factor')) / (96 / 72),
              ] as const)
            : null,
      };
    });
  };
  return until(read, ({ opened, message }) => opened || message !== null, 'opening', PATIENCE);
}

/** The same file in the bare viewer: ms from handing it over to the first frame after the drawing. */
export async function openBare(page: Page, file: string): Promise<number> {
  await give(page, file);
  const read = async (): Promise<number> => {
    await toFront(page);
    return page.evaluate(() => {
      // No named function in here: what tsx adds to it is not there in the page.
      const [drawn] = performance.getEntriesByName('first-page');
      const [given] = performance.getEntriesByName('handed-over');
      return drawn && given ? drawn.startTime - given.startTime : 0;
    });
  };
  return until(read, (ms) => ms > 0, 'the bare viewer', PATIENCE);
}

/** Forgets everything that earlier files left in the extension. */
export async function forget(page: Page): Promise<void> {
  await page.evaluate(async () => {
    for (const { name } of await indexedDB.databases())
      await new Promise<void>((done, refused) => {
        const asked = indexedDB.deleteDatabase(name!);
        asked.onsuccess = () => done();
        asked.onerror = () => refused(asked.error!);
      });
  });
}
