import { kernels, lent } from '../../core/find/kernels/kernels.ts';
import { lumaOf } from '../../core/find/pixels/picture.ts';

/** A picture as pdf.js has decoded it. */
export interface Decoded {
  readonly width: number;
  readonly height: number;
  /** pdf.js's ImageKind; a stencil has none, and a bit a pixel. */
  readonly kind?: number;
  /** Rows from the top; null where the browser holds the picture. */
  readonly data: Uint8Array | Uint8ClampedArray | null;
}

/** pdf.js's ImageKind. */
const BITS = 1;
const RGB = 2;
export const RGBA = 3;

/** Bytes that a row takes in `data`. */
function rowBytes({ width, kind = BITS }: Decoded): number {
  return kind === BITS ? (width + 7) >> 3 : width * (kind === RGB ? 3 : 4);
}

/** All of its rows are there. */
export function isComplete(picture: Decoded): picture is Decoded & { readonly data: Uint8Array } {
  const { width, height, kind = BITS, data } = picture;
  const isKnown = kind === BITS || kind === RGB || kind === RGBA;
  return isKnown && width > 0 && height > 0 && !!data && data.length >= height * rowBytes(picture);
}

/** Puts row `y` into `light`, a byte a pixel, 0 black – 255 white; transparent parts on white. */
export type RowReader = (y: number, light: Uint8Array) => void;

/** @param picture one that `isComplete` */
export function rowsOf(picture: Decoded): RowReader {
  const { width, kind = BITS } = picture;
  const data = picture.data!;
  const bytes = rowBytes(picture);
  if (kind === BITS)
    return (y, light) => {
      for (let x = 0, i = y * bytes; x < width; i++) {
        const eight = data[i]!;
        const end = Math.min(width, x + 8);
        // Most of a page is paper.
        if (eight === 255) {
          while (x < end) light[x++] = 255;
          continue;
        }
        for (let bit = 128; x < end; bit >>= 1) light[x++] = (eight & bit) === 0 ? 0 : 255;
      }
    };
  if (kind === RGB) return rgbRows(data, width);
  return (y, light) => {
    for (let x = 0, i = y * bytes; x < width; x++, i += 4) {
      const luma = lumaOf(data[i]!, data[i + 1]!, data[i + 2]!);
      light[x] = (255 - ((255 - luma) * data[i + 3]!) / 255) | 0;
    }
  };
}

/** So many rows are made grey at once. */
const TOGETHER = 64;

/** Rows of three bytes a pixel. */
function rgbRows(data: Uint8Array | Uint8ClampedArray, width: number): RowReader {
  const rows = new Uint8Array(TOGETHER * width);
  let first = -TOGETHER;
  return (y, light) => {
    if (y < first || y >= first + TOGETHER) {
      first = y;
      const some = data.subarray(3 * y * width, 3 * (y + TOGETHER) * width);
      const { at, bytes } = lent(some.length, rows.length);
      const [rgb, grey] = at;
      bytes.set(some, rgb);
      kernels().greyOfRgb(rgb, grey, some.length / 3);
      rows.set(bytes.subarray(grey, grey + rows.length));
    }
    light.set(rows.subarray((y - first) * width, (y - first + 1) * width));
  };
}
