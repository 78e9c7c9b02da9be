import { kernels } from '../../core/find/kernels/kernels.ts';
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
/** None of pdf.js's: a byte a pixel. */
export const GREY = 8;

/** Bytes that a row takes in `data`. */
function rowBytes({ width, kind = BITS }: Decoded): number {
  if (kind === BITS) return (width + 7) >> 3;
  return width * (kind === GREY ? 1 : kind === RGB ? 3 : 4);
}

/** All of its rows are there. */
export function isComplete(picture: Decoded): picture is Decoded & { readonly data: Uint8Array } {
  const { width, height, kind = BITS, data } = picture;
  const isKnown = kind === BITS || kind === RGB || kind === RGBA || kind === GREY;
  return isKnown && width > 0 && height > 0 && !!data && data.length >= height * rowBytes(picture);
}

/** Rows of a picture in grey, in the kernels' memory: a byte a pixel, 0 black – 255 white; transparent parts on white. */
export interface GreyRows {
  /** Bytes that it works in, for so many rows. */
  room(count: number): number;
  /** Puts `count` rows from `first` on into `bytes` at `grey`; it works at `room`. */
  read(bytes: Uint8Array, grey: number, room: number, first: number, count: number): void;
}

/** @param picture one that `isComplete` */
export function greyRows(picture: Decoded): GreyRows {
  const { width, kind = BITS } = picture;
  const data = picture.data!;
  if (kind === GREY) return plainRows(data, width);
  if (kind === RGB) return rgbRows(data, width);
  return kind === BITS ? bitRows(data, width, rowBytes(picture)) : rgbaRows(data, width);
}

type Bytes = Uint8Array | Uint8ClampedArray;

function plainRows(data: Bytes, width: number): GreyRows {
  return {
    room: () => 0,
    read(bytes, grey, _room, first, count) {
      bytes.set(data.subarray(first * width, (first + count) * width), grey);
    },
  };
}

function bitRows(data: Bytes, width: number, each: number): GreyRows {
  return {
    room: (count) => each * count,
    read(bytes, grey, room, first, count) {
      bytes.set(data.subarray(first * each, (first + count) * each), room);
      for (let k = 0; k < count; k++) kernels().greyOfBits(room + k * each, grey + k * width, width);
    },
  };
}

function rgbaRows(data: Bytes, width: number): GreyRows {
  return {
    room: () => 0,
    read(bytes, grey, _room, first, count) {
      for (let k = 0, i = 4 * first * width; k < count * width; k++, i += 4) {
        const luma = lumaOf(data[i]!, data[i + 1]!, data[i + 2]!);
        bytes[grey + k] = (255 - ((255 - luma) * data[i + 3]!) / 255) | 0;
      }
    },
  };
}

/** Rows of three bytes a pixel. */
function rgbRows(data: Bytes, width: number): GreyRows {
  return {
    room: (count) => 3 * width * count,
    read(bytes, grey, room, first, count) {
      const rgb = data.subarray(3 * first * width, 3 * (first + count) * width);
      bytes.set(rgb, room);
      kernels().greyOfRgb(room, grey, rgb.length / 3);
    },
  };
}
