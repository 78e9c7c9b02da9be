/**
 * The light on a photographed page. Where a shadow lies over it no single level parts paper from ink: each part is
 * measured by the paper around it, as in D. Bradley and G. Roth, "Adaptive Thresholding Using the Integral Image",
 * Journal of Graphics Tools 12 (2007). Their mean, made a ramp between two levels, keeps the soft edges of ink.
 */
import type { PaperAndInk } from './fragments.ts';

/** In the shadow, paper is less than this share as light as the page's. */
const SHADOW = 0.85;
/**
 * Lightness beside the mean around it: full ink, and bare paper. By trial, no source: nearer together, faint staff
 * lines go with the noise of the paper.
 */
const INK = 0.5;
const BARE = 1;
/** Px of noise are smoothed over this share of the window's width. */
const GRAIN = 1 / 80;

/** Sums over rectangles of a picture: the sum of what lies above and left of each corner. */
function sums(values: Float32Array, width: number, height: number): Float64Array {
  const out = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++)
    for (let x = 0, row = 0; x < width; x++) {
      row += values[y * width + x]!;
      out[(y + 1) * (width + 1) + x + 1] = out[y * (width + 1) + x + 1]! + row;
    }
  return out;
}

/** The mean over the square of so many px each way around a px. */
function meanOf(sum: Float64Array, width: number, height: number, x: number, y: number, reach: number) {
  const [left, right] = [Math.max(0, x - reach), Math.min(width, x + reach + 1)];
  const [top, bottom] = [Math.max(0, y - reach), Math.min(height, y + reach + 1)];
  const at = (column: number, row: number) => sum[row * (width + 1) + column]!;
  const all = at(right, bottom) - at(left, bottom) - at(right, top) + at(left, top);
  return all / ((right - left) * (bottom - top));
}

/**
 * Lifts the shadow from a piece of a scan: paper becomes as light as the page's, ink as dark. A piece without one
 * stays as it is.
 * @param pixels RGBA, changed in place
 * @param window px, about a staff's height: wide enough to hold more paper than ink
 * @returns whether there was a shadow
 */
export function evenLight(
  pixels: Uint8ClampedArray,
  width: number,
  height: number,
  window: number,
  { paper, ink }: PaperAndInk,
): boolean {
  const light = Float32Array.from(
    { length: width * height },
    (_, i) => 0.2126 * pixels[4 * i]! + 0.7152 * pixels[4 * i + 1]! + 0.0722 * pixels[4 * i + 2]!,
  );
  const middle = Float32Array.from(light).sort()[light.length >> 1] ?? 0;
  if (middle >= SHADOW * 255 * paper) return false;
  const sum = sums(light, width, height);
  const around = Math.max(1, Math.round(window / 2));
  const grain = Math.round(window * GRAIN);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const share = meanOf(sum, width, height, x, y, grain) / meanOf(sum, width, height, x, y, around);
      const bare = Math.min(1, Math.max(0, (share - INK) / (BARE - INK)));
      pixels.fill(255 * (ink + (paper - ink) * bare), 4 * (y * width + x), 4 * (y * width + x) + 3);
    }
  return true;
}
