/** A page as pixels. */

/** Grey pixels, row by row from the top left: 0 black – 255 white. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Grey of a colour: luma weights of ITU-R BT.601, in 256ths. */
export const lumaOf = (red: number, green: number, blue: number): number =>
  (77 * red + 150 * green + 29 * blue) >> 8;

/**
 * Grey of a picture in colours, transparent parts on white paper.
 * @param rgba four bytes a pixel, as a canvas gives them
 */
export function greyOf(rgba: Uint8Array | Uint8ClampedArray, width: number, height: number): Picture {
  const data = new Uint8Array(width * height);
  for (let i = 0, j = 0; i < data.length; i++, j += 4) {
    const luma = lumaOf(rgba[j]!, rgba[j + 1]!, rgba[j + 2]!);
    const alpha = rgba[j + 3]!;
    data[i] = alpha === 255 ? luma : (255 - ((255 - luma) * alpha) / 255) | 0;
  }
  return { width, height, data };
}

/** The picture at half its size, every pixel the mean of four; an odd last row or column is left out. */
export function halved({ width, height, data }: Picture): Picture {
  const [w, h] = [width >> 1, height >> 1];
  const out = new Uint8Array(w * h);
  for (let y = 0, k = 0; y < h; y++)
    for (let x = 0, i = 2 * y * width; x < w; x++, i += 2)
      out[k++] = (data[i]! + data[i + 1]! + data[i + width]! + data[i + width + 1]! + 2) >> 2;
  return { width: w, height: h, data: out };
}
