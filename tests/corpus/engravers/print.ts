/** SVG pages to a PDF, as a browser prints them. */
import puppeteer from 'puppeteer-core';

/** Prints pages of these sizes in CSS pixels; one PDF for each list of pages. */
export async function print(
  jobs: readonly { pages: readonly string[]; width: number; height: number }[],
): Promise<Uint8Array[]> {
  const browser = await puppeteer.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
  });
  try {
    const page = await browser.newPage();
    const made: Uint8Array[] = [];
    for (const { pages, width, height } of jobs) {
      const body = pages.map((svg) => `<div>${svg}</div>`).join('');
      await page.setContent(
        `<style>@page { size: ${width}px ${height}px; margin: 0 } body { margin: 0 } div { width: ${width}px; height: ${height}px; overflow: hidden; break-after: page } div:last-child { break-after: auto }</style>${body}`,
      );
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
  } finally {
    await browser.close();
  }
}

/** A CSS pixel is 1/96 of an inch, a point 1/72. */
export const POINTS_A_PIXEL = 0.75;
