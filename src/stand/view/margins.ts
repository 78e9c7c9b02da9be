import type { PageBox } from '../../core/chart/types.ts';
import { printedBox } from '../../core/drill/printed.ts';

/** Width of the picture that is looked at, px: a staff line still shows, a speck of dust does not. */
const LOOKED_AT = 240;

/** Looks at a drawn page: the box around what is printed on it. `darkerThan`: ink, 0 black to 1 white. */
export function printedBoxOf(page: HTMLCanvasElement, darkerThan: number): PageBox {
  const small = document.createElement('canvas');
  small.width = LOOKED_AT;
  small.height = Math.max(1, Math.round((page.height / page.width) * LOOKED_AT));
  const context = small.getContext('2d', { willReadFrequently: true });
  if (!context) return [0, 0, 1, 1];
  context.drawImage(page, 0, 0, small.width, small.height);
  const { data } = context.getImageData(0, 0, small.width, small.height);
  const dark = Array.from(
    { length: small.width * small.height },
    (_, i) => data[4 * i + 1]! < darkerThan * 255,
  );
  return printedBox(dark, small.width, small.height);
}
