import type { Page } from 'puppeteer-core';
// @ts-expect-error -- plain JavaScript, so that npm start runs before anything is installed
import * as browsers from '../browsers/index.mjs';
// @ts-expect-error -- as above
import * as pages from '../browsers/page.mjs';

/** A browser with the extension in it, as far as this command needs one. */
export interface Driver {
  openPage(path: string): Promise<Page>;
  close(): Promise<void>;
}

interface Options {
  readonly extension: string;
  readonly size: { readonly width: number; readonly height: number };
  /** Of Firefox. */
  readonly prefs?: Readonly<Record<string, unknown>>;
}

export const launch = (browsers as { launch: (name: string, options: Options) => Promise<Driver> }).launch;

/** Reads until it is as wanted; throws in one line when time is up. */
export const until = (
  pages as {
    until: <T>(
      read: () => Promise<T>,
      wanted: (value: T) => boolean,
      what: string,
      seconds: number,
    ) => Promise<T>;
  }
).until;
