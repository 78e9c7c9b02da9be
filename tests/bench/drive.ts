/** The tests' own drive, typed as far as the bench needs it. */
import type { Page } from 'puppeteer-core';
import { launch, until, type Driver } from '../../src/cli/try-charts/driver.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import * as charts from '../browser/drive/charts.mjs';
// @ts-expect-error -- as above
import * as drive from '../browser/drive/index.mjs';

export { until, type Driver };

export interface Standing {
  readonly state: string | null;
  readonly phase: string | null;
  readonly tight: number | null;
  readonly loose: number | null;
}

export const { readStand, closeCaution } = drive as {
  readStand: (page: Page) => Promise<Standing>;
  closeCaution: (page: Page) => Promise<void>;
};
export const { putOnStand } = charts as {
  putOnStand: (
    driver: Driver,
    name: string,
    numbers: Readonly<Record<string, unknown>>,
  ) => Promise<{ page: Page; path: string }>;
};

export type BrowserName = 'chromium' | 'firefox';

/** Firefox tells time in whole milliseconds unless told otherwise. */
const PREFS = { 'privacy.reduceTimerPrecision': false };

/** Runs `work` in a browser with the extension, whatever comes of it closed. */
export async function inBrowser<T>(
  name: BrowserName,
  extension: string,
  work: (driver: Driver) => Promise<T>,
): Promise<T> {
  const driver = await launch(name, { extension, size: { width: 1280, height: 800 }, prefs: PREFS });
  try {
    return await work(driver);
  } finally {
    await driver.close();
  }
}

export const inChromium = <T>(extension: string, work: (driver: Driver) => Promise<T>): Promise<T> =>
  inBrowser('chromium', extension, work);

export const sleep = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));
