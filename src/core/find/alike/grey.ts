/** Small grey pictures that are compared. */
import { halved } from '../pixels/picture.ts';

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
  // Its columns lie as the rows of a page do.
  const half = halved({ width: height, height: width, data });
  return { width: half.height, height: half.width, data: half.data };
}
