/** A page as grey pixels, drawn by pdf.js: for pages that hold a scan. */
import type { PDFDocumentProxy } from 'pdfjs-dist';
import { greyOf, type Picture } from '../core/find/pixels/index.ts';

/** The slice of pdf.js's canvas factory that is needed: in Node it brings a canvas of its own, in a browser the page's. */
interface CanvasFactory {
  create(width: number, height: number): { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D };
  destroy(made: { canvas: HTMLCanvasElement; context: CanvasRenderingContext2D }): void;
}

/** No page is drawn larger than this, pixels on its longer side, whatever its size in points. */
const LARGEST = 2600;

/**
 * Draws a page on white.
 * @param index of the page, from 0
 * @param dpi pixels for an inch of the page; fewer where the page is huge
 * @throws when the page cannot be drawn
 */
export async function greyPage(document: PDFDocumentProxy, index: number, dpi = 170): Promise<Picture> {
  const page = await document.getPage(index + 1);
  const size = page.getViewport({ scale: 1 });
  const scale = Math.min(dpi / 72, LARGEST / Math.max(size.width, size.height));
  const viewport = page.getViewport({ scale });
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
