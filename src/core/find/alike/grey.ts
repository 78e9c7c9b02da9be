/** Small grey pictures that are compared. */

/** Pixels for a space. */
export const FINE = 6;
/** Pictures that are kept and compared are this much finer: as fine as straightened systems. */
export const FINER = 2;

/** Darkness, column by column, from the top down: 0 paper – 15 full ink. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** A part of a picture; paper where it goes beyond. */
export function cropped({ width, height, data }: Grey, x0: number, x1: number, y0 = 0, y1 = height): Grey {
  const [w, h] = [Math.max(0, x1 - x0), Math.max(0, y1 - y0)];
  const out = new Uint8Array(w * h);
  const [top, bottom] = [Math.max(0, y0), Math.min(height, y1)];
  for (let x = Math.max(0, x0); x < Math.min(width, x1) && bottom > top; x++)
    out.set(data.subarray(x * height + top, x * height + bottom), (x - x0) * h + top - y0);
  return { width: w, height: h, data: out };
}

/** A picture at half its size, every pixel the mean of four. */
export function coarse({ width, height, data }: Grey): Grey {
  const [w, h] = [width >> 1, height >> 1];
  const out = new Uint8Array(w * h);
  for (let x = 0, k = 0; x < w; x++)
    for (let y = 0, at = 2 * x * height; y < h; y++, at += 2)
      out[k++] = (data[at]! + data[at + 1]! + data[at + height]! + data[at + height + 1]! + 2) >> 2;
  return { width: w, height: h, data: out };
}
