/**
 * Reads pages in a worker of the browser's: what they paint, and their pixels. It opens the file for itself,
 * so that neither reading nor drawing ever holds up the page that the player looks at.
 */
import { getDocument, OPS, PDFWorker } from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import type { PageInk } from '../core/find/types.ts';
import { inkOf, Outlines } from './ink/index.ts';
import { LARGEST_IMAGE } from './limits.ts';

/** Lightness of every pixel, row by row from the top left, 0 black – 255 white. */
export interface GreyPage {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

export interface PageReader {
  readonly pages: number;
  /** What page `index` (from 0) paints. Throws what pdf.js throws when the page cannot be read. */
  ink(index: number): Promise<PageInk>;
  /** Page `index` as drawn on white, so many pixels an inch. */
  grey(index: number, perInch: number): Promise<GreyPage>;
}

const POINTS_PER_INCH = 72;
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
    grey: (index, perInch) =>
      withPage(index, async (page) => {
        const viewport = page.getViewport({ scale: perInch / POINTS_PER_INCH });
        const canvas = new OffscreenCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
        const context = canvas.getContext('2d', { willReadFrequently: true })!;
        // pdf.js's types know canvases of a document alone.
        const canvasContext = context as unknown as CanvasRenderingContext2D;
        await page.render({ canvas: null, canvasContext, viewport, background: '#fff' }).promise;
        const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
        return { width: canvas.width, height: canvas.height, data: greyOf(data) };
      }),
  };
}

/** Lightness by the weights of ITU-R BT.601. `rgba` is opaque. */
export function greyOf(rgba: Uint8ClampedArray): Uint8Array {
  const grey = new Uint8Array(rgba.length / 4);
  for (let i = 0, j = 0; i < grey.length; i++, j += 4)
    grey[i] = (299 * rgba[j]! + 587 * rgba[j + 1]! + 114 * rgba[j + 2]!) / 1000;
  return grey;
}
