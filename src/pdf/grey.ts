/** A page as grey pixels: for pages that hold a scan. */
import type { PDFDocumentProxy, PDFPageProxy } from 'pdfjs-dist';
import { greyOf, type Picture } from '../core/find/pixels/index.ts';
import { pageOf } from './scan/page.ts';
import type { PaintedPicture } from './scan/pictures.ts';
import type { Decoded } from './scan/decoded.ts';
import { greyOfFrame, isFrame, type Framed } from './scan/frames.ts';

/** The slice of pdf.js's canvas factory that is needed: in Node it brings a canvas of its own, in a browser the page's. */
interface CanvasFactory {
  create(width: number, height: number): { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D };
  destroy(made: { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D }): void;
}

/** The same of its stores of what a page needs. */
interface Objects {
  get(name: string, then: (value: unknown) => void): unknown;
}

/** Pixels for an inch of a page in which bars are found. */
const FINDING_DPI = 170;
/** No page is made larger than this, pixels on its longer side, whatever its size in points. */
const LARGEST = 2600;

const fitting = (page: PDFPageProxy, dpi: number) => {
  const size = page.getViewport({ scale: 1 });
  return Math.min(dpi, (72 * LARGEST) / Math.max(size.width, size.height));
};

/**
 * Draws a page on white.
 * @param index of the page, from 0
 * @param dpi pixels for an inch of the page; fewer where the page is huge
 * @throws when the page cannot be drawn
 */
export async function drawnPage(
  document: PDFDocumentProxy,
  index: number,
  dpi = FINDING_DPI,
): Promise<Picture> {
  const page = await document.getPage(index + 1);
  const viewport = page.getViewport({ scale: fitting(page, dpi) / 72 });
  const [width, height] = [Math.max(1, Math.round(viewport.width)), Math.max(1, Math.round(viewport.height))];
  const factory = document.canvasFactory as CanvasFactory;
  const made = factory.create(width, height);
  try {
    await page.render({ canvas: made.canvas, canvasContext: made.context, viewport, background: 'white' })
      .promise;
    return greyOf(made.context.getImageData(0, 0, width, height).data, width, height);
  } finally {
    factory.destroy(made);
    page.cleanup();
  }
}

/**
 * A page that is made of `painted` alone, from what pdf.js has decoded for its operators: no canvas, and no second
 * decoding. Null where it has to be drawn. Fewer pixels to the inch than `dpi` where its pictures have no more.
 */
export async function scannedPage(
  page: PDFPageProxy,
  painted: readonly PaintedPicture[],
  dpi = FINDING_DPI,
): Promise<Picture | null> {
  const decoded = async (source: string): Promise<Decoded | null> => {
    // A picture of several pages has a name of the whole file.
    const store = (source.startsWith('g_') ? page.commonObjs : page.objs) as Objects;
    const picture = await new Promise((resolve) => store.get(source, resolve));
    const { bitmap } = (picture ?? {}) as Partial<Framed>;
    return isFrame(bitmap) ? greyOfFrame(bitmap, picture as Framed) : (picture as Decoded | null);
  };
  const pictures = await Promise.all(
    painted.map(async (one) => ({
      ...one,
      picture: typeof one.source === 'string' ? await decoded(one.source) : one.source,
    })),
  );
  const { width, height } = page.getViewport({ scale: 1 });
  const known = pictures.flatMap(({ picture, ...one }) => (picture ? [{ ...one, picture }] : []));
  return known.length === painted.length ? pageOf(known, { width, height }, fitting(page, dpi)) : null;
}
