/** A file's pages for the finder, whichever build of pdf.js has opened it. */
import type { PDFDocumentProxy, PDFPageProxy } from 'pdfjs-dist';
import type { Picture } from '../core/find/pixels/index.ts';
import type { PageInk } from '../core/find/types.ts';
import { drawnPage, scannedPage } from './grey.ts';
import { inkOf, Outlines } from './ink/index.ts';
import { matrixFrom, type Matrix } from './ink/matrix.ts';
import { picturesIn } from './scan/pictures.ts';

export interface PageReader {
  readonly pages: number;
  /** What page `index` (from 0) paints. Throws what pdf.js throws when the page cannot be read. */
  ink(index: number): Promise<PageInk>;
  /**
   * Page `index` in grey on white, at most so many pixels to the inch: `scanned`, or else `drawn`. Throws when it can be
   * neither read nor drawn.
   */
  grey(index: number, dpi?: number): Promise<Picture>;
  /** Straight from the pictures that the page is made of, which are not decoded again after `ink`; null when it is more. */
  scanned(index: number, dpi?: number): Promise<Picture | null>;
  /** As pdf.js draws it. */
  drawn(index: number, dpi?: number): Promise<Picture>;
}

/** `ops` are the operator numbers of the same build. The file was opened with `forFinding`. */
export function readerOf(document: PDFDocumentProxy, ops: Parameters<typeof inkOf>[2]): PageReader {
  const outlines = new Outlines();
  /** The page whose pictures are still decoded. */
  let held: PDFPageProxy | null = null;
  const open = async (index: number) => {
    const page = await document.getPage(index + 1);
    if (held !== page) held?.cleanup();
    held = page;
    return { page, operators: await page.getOperatorList() };
  };
  const drawn = (index: number, dpi?: number) => drawnPage(document, index, dpi);
  const scanned = async (index: number, dpi?: number) => {
    const { page, operators } = await open(index);
    const size = page.getViewport({ scale: 1 });
    const painted = picturesIn(operators, ops, matrixFrom(size.transform) as Matrix, size);
    try {
      return painted && (await scannedPage(page, painted, dpi));
    } finally {
      page.cleanup();
    }
  };
  return {
    pages: document.numPages,
    async ink(index) {
      const { page, operators } = await open(index);
      const ink = inkOf(page, operators, ops, outlines);
      if (!ink.ink.some(({ kind }) => kind === 'image')) page.cleanup();
      return ink;
    },
    grey: async (index, dpi) => (await scanned(index, dpi)) ?? drawn(index, dpi),
    scanned,
    drawn,
  };
}

/**
 * How pdf.js has to open a file for the finder: letters are wanted as outlines, and pictures as their bytes. JPEGs are the
 * browser's to decode, which is several times as fast and gives them away (`scan/frames.ts`).
 */
export const forFinding = {
  disableFontFace: true,
  fontExtraProperties: true,
  isOffscreenCanvasSupported: false,
} as const;
