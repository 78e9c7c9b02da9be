import { AnnotationMode } from 'pdfjs-dist';
import type { PageBox } from '../core/chart/types.ts';
import { levelsOf, tone } from './levels.ts';
import type { PdfFile } from './open.ts';

/**
 * Draws a part of a page, for pictures of a chart's first line; the grey paper of a scan is white on them, as it is
 * on the stand.
 * @param page page of the document, from 0
 * @param box the part, fractions of the page
 * @param width of the picture in device pixels; its height follows the box
 * @throws when the page cannot be drawn
 */
export async function thumb(
  file: PdfFile,
  page: number,
  box: PageBox,
  width: number,
): Promise<HTMLCanvasElement> {
  const source = await file.document.getPage(page + 1);
  const whole = source.getViewport({ scale: 1 });
  const [x0, y0, x1, y1] = box;
  const scale = width / ((x1 - x0) * whole.width);
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(width));
  canvas.height = Math.max(1, Math.round((y1 - y0) * whole.height * scale));
  const viewport = source.getViewport({
    scale,
    offsetX: -x0 * whole.width * scale,
    offsetY: -y0 * whole.height * scale,
  });
  await source.render({ canvas, viewport, annotationMode: AnnotationMode.ENABLE }).promise;
  tone(canvas, levelsOf(canvas));
  return canvas;
}
