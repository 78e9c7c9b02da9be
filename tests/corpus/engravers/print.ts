/** What engravers that draw in a browser share, and SVG pages to a PDF, as a browser prints them. */
import puppeteer, { type Page } from 'puppeteer-core';

/** Sheets of paper in CSS pixels: [width, height]. */
export const PIXELS = { a4: [794, 1123], letter: [816, 1056], a4landscape: [1123, 794] } as const;

/** Works in a page of a browser of its own. */
export async function inPage<T>(work: (page: Page) => Promise<T>): Promise<T> {
  const browser = await puppeteer.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
  });
  try {
    return await work(await browser.newPage());
  } finally {
    await browser.close();
  }
}

/** Every div of the document is a sheet of this size, CSS pixels. */
export const sheetStyle = (width: number, height: number) =>
  `<style>@page { size: ${width}px ${height}px; margin: 0 } body { margin: 0 } div { width: ${width}px; height: ${height}px; overflow: hidden; break-after: page } div:last-child { break-after: auto }</style>`;

/** Prints pages of these sizes in CSS pixels; one PDF for each list of pages. */
export async function print(
  jobs: readonly { pages: readonly string[]; width: number; height: number }[],
): Promise<Uint8Array[]> {
  return inPage(async (page) => {
    const made: Uint8Array[] = [];
    for (const { pages, width, height } of jobs) {
      const body = pages.map((svg) => `<div>${svg}</div>`).join('');
      await page.setContent(`${sheetStyle(width, height)}${body}`);
      await page.evaluate('document.fonts.ready.then(() => true)');
      made.push(
        await page.pdf({
          width: `${width}px`,
          height: `${height}px`,
          printBackground: true,
          pageRanges: `1-${pages.length}`,
        }),
      );
    }
    return made;
  });
}

/** A CSS pixel is 1/96 of an inch, a point 1/72. */
export const POINTS_A_PIXEL = 0.75;
