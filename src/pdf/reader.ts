/**
 * Reads pages in a worker of the browser's: what they paint, and their pixels. It opens the file for itself,
 * so that neither reading nor drawing ever holds up the page that the player looks at.
 */
import { getDocument, OPS, PDFWorker } from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import type { PageInk } from '../core/find/types.ts';
import type { Picture } from '../core/find/pixels/index.ts';
import { greyPage } from './grey.ts';
import { inkOf, Outlines } from './ink/index.ts';
import { LARGEST_IMAGE } from './limits.ts';

export interface PageReader {
  readonly pages: number;
  /** What page `index` (from 0) paints. Throws what pdf.js throws when the page cannot be read. */
  ink(index: number): Promise<PageInk>;
  /** Page `index` as drawn on white. Throws what pdf.js throws when it cannot be drawn. */
  grey(index: number): Promise<Picture>;
}

const packed = (folder: string) => new URL(`/pdfjs/${folder}/`, location.origin).href;

/** A worker has no document to make canvases in. */
class Canvases {
  create(width: number, height: number) {
    const canvas = new OffscreenCanvas(width, height);
    return { canvas, context: canvas.getContext('2d', { willReadFrequently: true }) };
  }
  reset({ canvas }: { canvas: OffscreenCanvas }, width: number, height: number) {
    canvas.width = width;
    canvas.height = height;
  }
  destroy(made: { canvas: OffscreenCanvas | null; context: unknown }) {
    made.canvas = null;
    made.context = null;
  }
}

/** Nor can it hold SVG filters: what needs one is drawn without. */
class NoFilters {
  private none = () => 'none';
  addFilter = this.none;
  addHCMFilter = this.none;
  addAlphaFilter = this.none;
  addLuminosityFilter = this.none;
  addHighlightHCMFilter = this.none;
  destroy() {}
}

/** Opens a PDF in this worker. Throws pdf.js's own errors. It is freed with the worker. */
export async function readPages(bytes: Blob, password: string | null = null): Promise<PageReader> {
  const port = new Worker(workerUrl, { type: 'module' });
  const options = {
    ...(password === null ? {} : { password }),
    data: new Uint8Array(await bytes.arrayBuffer()),
    worker: PDFWorker.create({ port }),
    cMapUrl: packed('cmaps'),
    cMapPacked: true,
    standardFontDataUrl: packed('standard_fonts'),
    wasmUrl: packed('wasm'),
    iccUrl: packed('iccs'),
    // Left to itself, pdf.js would ask the document for its address.
    useWorkerFetch: true,
    isEvalSupported: false,
    enableXfa: false,
    maxImageSize: LARGEST_IMAGE,
    // Letters come as outlines: the finder wants them, and a worker's canvas has no fonts of the file's.
    disableFontFace: true,
    fontExtraProperties: true,
    CanvasFactory: Canvases,
    FilterFactory: NoFilters,
  };
  const document = await getDocument(options).promise;
  const outlines = new Outlines();
  const withPage = async <T>(
    index: number,
    use: (page: Awaited<ReturnType<typeof document.getPage>>) => Promise<T>,
  ) => {
    const page = await document.getPage(index + 1);
    try {
      return await use(page);
    } finally {
      page.cleanup();
    }
  };
  return {
    pages: document.numPages,
    ink: (index) => withPage(index, (page) => inkOf(page, OPS, outlines)),
    grey: (index) => greyPage(document, index),
  };
}
