import { lent } from '../kernels/kernels.ts';
import type { Grey } from './grey.ts';

/** Ink that hangs together: columns and rows of the picture, the last of each left out, and its pixels. */
export interface Blob {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
  readonly pixels: readonly number[];
}

/** Blobs of at least `least` pixels as dark as `ink` between two rows, eight neighbours counted. */
export function blobsOf(
  picture: Grey,
  ink: number,
  least: number,
  [top, bottom]: readonly [number, number],
): Blob[] {
  const { width, height, data } = picture;
  const { at, bytes } = lent(data.length);
  const seen = bytes.subarray(at[0], at[0] + data.length).fill(0);
  // Most is paper: it is looked at by fours, where they do not lie between two.
  const skew = -data.byteOffset & 3;
  const fours = new Uint32Array(data.buffer, data.byteOffset + skew, (data.length - skew) >> 2);
  const blobs: Blob[] = [];
  for (let column = 0; column < width; column++)
    for (let start = column * height + top, end = column * height + bottom; start < end; start++) {
      while (((start - skew) & 3) === 0 && fours[(start - skew) >> 2] === 0) start += 4;
      if (start >= end) break;
      if (data[start]! < ink || seen[start]) continue;
      const blob = blobAt(picture, ink, start, [top, bottom], seen);
      if (blob.pixels.length >= least) blobs.push(blob);
    }
  return blobs;
}

/** All that hangs together with a pixel; marks it in `seen`. */
function blobAt(
  { width, height, data }: Grey,
  ink: number,
  start: number,
  [top, bottom]: readonly [number, number],
  seen: Uint8Array,
): Blob {
  let [x0, x1, y0, y1] = [width, 0, height, 0];
  const pixels = [start];
  seen[start] = 1;
  for (let k = 0; k < pixels.length; k++) {
    const at = pixels[k]!;
    const x = (at / height) | 0;
    const y = at % height;
    if (x < x0) x0 = x;
    if (x >= x1) x1 = x + 1;
    if (y < y0) y0 = y;
    if (y >= y1) y1 = y + 1;
    for (let a = x > 0 ? x - 1 : 0; a <= x + 1 && a < width; a++)
      for (let b = y > top ? y - 1 : top; b <= y + 1 && b < bottom; b++) {
        const next = a * height + b;
        if (seen[next] || data[next]! < ink) continue;
        seen[next] = 1;
        pixels.push(next);
      }
  }
  return { x0, x1, y0, y1, pixels };
}

/** Blobs less than `near` columns and `level` rows from each other are one, such as the letters of a word. */
export function joined(blobs: readonly Blob[], near: number, level: number): Blob[] {
  const words: Blob[] = [];
  for (const blob of [...blobs].sort((a, b) => a.x0 - b.x0)) {
    let word = blob;
    for (let i = words.length - 1; i >= 0; i--) {
      const other = words[i]!;
      if (word.x0 - other.x1 >= near || word.y0 >= other.y1 + level || other.y0 >= word.y1 + level) continue;
      words.splice(i, 1);
      word = {
        x0: Math.min(word.x0, other.x0),
        x1: Math.max(word.x1, other.x1),
        y0: Math.min(word.y0, other.y0),
        y1: Math.max(word.y1, other.y1),
        pixels: [...other.pixels, ...word.pixels],
      };
    }
    words.push(word);
  }
  return words;
}

/**
 * The blobs' pixels and those around them, 1; all others 0.
 * @param from the column of the picture at which the mask begins, and how many it has
 */
export function maskOf(
  { width, height }: Grey,
  blobs: readonly Blob[],
  from = 0,
  columns = width,
): Uint8Array {
  const mask = new Uint8Array(columns * height);
  for (const { pixels } of blobs)
    for (const pixel of pixels) {
      const at = pixel - from * height;
      const y = pixel % height;
      for (let column = at - height; column <= at + height; column += height) {
        if (column < 0 || column >= mask.length) continue;
        mask[column] = 1;
        if (y > 0) mask[column - 1] = 1;
        if (y < height - 1) mask[column + 1] = 1;
      }
    }
  return mask;
}
