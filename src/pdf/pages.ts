/** A file's pages for the finder, whichever build of pdf.js has opened it. */
import type { PDFDocumentProxy } from 'pdfjs-dist';
import type { Picture } from '../core/find/pixels/index.ts';
import type { PageInk } from '../core/find/types.ts';
import { greyPage } from './grey.ts';
import { inkOf, Outlines } from './ink/index.ts';

export interface PageReader {
  readonly pages: number;
  /** What page `index` (from 0) paints. Throws what pdf.js throws when the page cannot be read. */
  ink(index: number): Promise<PageInk>;
  /** Page `index` as drawn on white, so many pixels to the inch. Throws when it cannot be drawn. */
  grey(index: number, dpi?: number): Promise<Picture>;
}

/** `ops` are the operator numbers of the same build. The file was opened with `letterOutlines`. */
export function readerOf(document: PDFDocumentProxy, ops: Parameters<typeof inkOf>[1]): PageReader {
  const outlines = new Outlines();
  return {
    pages: document.numPages,
    async ink(index) {
      const page = await document.getPage(index + 1);
      try {
        return await inkOf(page, ops, outlines);
      } finally {
        page.cleanup();
      }
    },
    grey: (index, dpi) => greyPage(document, index, dpi),
  };
}

/** How pdf.js has to open a file whose letters are wanted as outlines. */
export const letterOutlines = { disableFontFace: true, fontExtraProperties: true } as const;
