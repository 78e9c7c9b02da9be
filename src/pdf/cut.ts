import { AnnotationMode } from 'pdfjs-dist';
import type { PdfFile } from './open.ts';

const CSS_PX_PER_POINT = 96 / 72;

/** Left, top, width and height in whole device pixels of the drawn page. */
export interface DeviceArea {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Draws a part of a page sharp at any size: nothing is stretched, the page itself is drawn at `scale` and only
 * the part is kept.
 * @param page of the document, from 0
 * @param scale device pixels a CSS px of the page at 100 %
 * @throws when the page cannot be drawn; the signal's reason when aborted
 */
export async function cutOut(
  file: PdfFile,
  page: number,
  area: DeviceArea,
  scale: number,
  signal?: AbortSignal,
): Promise<HTMLCanvasElement> {
  const source = await file.document.getPage(page + 1);
  signal?.throwIfAborted();
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, area.width);
  canvas.height = Math.max(1, area.height);
  const viewport = source.getViewport({
    scale: scale * CSS_PX_PER_POINT,
    offsetX: -area.left,
    offsetY: -area.top,
  });
  const task = source.render({ canvas, viewport, annotationMode: AnnotationMode.ENABLE });
  const stop = () => task.cancel();
  signal?.addEventListener('abort', stop, { once: true });
  try {
    await task.promise;
  } finally {
    signal?.removeEventListener('abort', stop);
  }
  return canvas;
}
