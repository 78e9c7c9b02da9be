import type { Picture } from '../../core/find/pixels/index.ts';
import { boxUnder, UNIT } from '../ink/matrix.ts';
import { isComplete, RGBA, type Decoded } from './decoded.ts';
import type { PaintedPicture } from './pictures.ts';
import { reduced } from './reduce.ts';

/** With fewer pixels to the inch a picture has to be drawn larger, and smooth. */
const COARSEST = 99;
/** A picture counts for a page's resolution from this share of the largest one's area on. */
const LARGE = 0.5;
/** A picture that is so many times larger than its page is mostly not on it. */
const BEYOND = 4;

interface Placed extends PaintedPicture {
  readonly picture: Decoded;
}

/**
 * A page of pictures in grey on white, straight from what they were decoded to; null where it has to be drawn.
 * @param size of the page in points
 * @param dpi at most so many pixels for an inch of the page; no more than its pictures have
 */
export function pageOf(
  pictures: readonly Placed[],
  size: { readonly width: number; readonly height: number },
  dpi: number,
): Picture | null {
  // What shows through others is not kept.
  if (!pictures.every(({ picture }, i) => isComplete(picture) && (i === 0 || picture.kind !== RGBA)))
    return null;
  const perInch = Math.min(dpi, finest(pictures));
  if (!(perInch >= COARSEST)) return null;
  const scale = perInch / 72;
  const alone = wholePage(pictures, size, scale);
  if (alone) return alone;
  const width = Math.max(1, Math.round(size.width * scale));
  const height = Math.max(1, Math.round(size.height * scale));
  const page = { width, height, data: new Uint8Array(width * height).fill(255) };
  return pictures.every((placed) => lay(page, placed, scale)) ? page : null;
}

/** A page may have so much more or less pixels than asked for, as a share, where its one picture need not be changed. */
const AS_IS = 0.02;

/** A picture that is all of its page, upright, and has about as many pixels as are wanted; null for any other. */
function wholePage(
  pictures: readonly Placed[],
  { width, height }: { readonly width: number; readonly height: number },
  scale: number,
): Picture | null {
  const [{ picture, matrix, stencil }] = pictures as readonly [Placed];
  const isWhole = [width, 0, 0, -height, 0, height].every(
    (value, i) => Math.abs(value - matrix[i]!) < 0.5 / scale,
  );
  const off = Math.max(
    Math.abs(picture.width / (width * scale) - 1),
    Math.abs(picture.height / (height * scale) - 1),
  );
  if (pictures.length > 1 || stencil !== null || !isWhole || off > AS_IS) return null;
  return reduced(picture, picture.width, picture.height);
}

/** Pixels to the inch of the finest of the large pictures, the way it has fewer. */
function finest(pictures: readonly Placed[]): number {
  const sizes = pictures.map(({ picture, matrix: [a, b, c, d] }) => {
    const [wide, high] = [Math.hypot(a, b), Math.hypot(c, d)];
    return { area: wide * high, dpi: 72 * Math.min(picture.width / wide, picture.height / high) };
  });
  const largest = Math.max(...sizes.map(({ area }) => area));
  return Math.max(...sizes.filter(({ area }) => area >= LARGE * largest).map(({ dpi }) => dpi));
}

/** The whole pixel at which a picture ends: the same for two that meet. */
const edge = (value: number) => Math.round(Math.round(64 * value) / 64);

/** Lays a picture on the page; false where it is too large for that. */
function lay(page: Picture, { picture, matrix, stencil }: Placed, scale: number): boolean {
  const [x0, y0, x1, y1] = boxUnder(matrix, UNIT).map((v) => edge(v * scale));
  const [wide, high] = [x1! - x0!, y1! - y0!];
  if (wide < 1 || high < 1) return true;
  if (wide * high > BEYOND * page.width * page.height) return false;
  const [a, b, c, d] = matrix;
  const lies = Math.abs(a) > Math.abs(b);
  const small = lies ? reduced(picture, wide, high) : reduced(picture, high, wide);
  // The picture's rows go down, as the page's; those of the unit square go up.
  const [right, down] = lies ? [1, small.width] : [small.width, 1];
  const goesRight = lies ? a > 0 : c < 0;
  const goesDown = lies ? d < 0 : b > 0;
  const ink = 255 * (stencil ?? 0);
  for (let y = Math.max(0, y0!); y < Math.min(page.height, y1!); y++) {
    const row = down * (goesDown ? y - y0! : y1! - 1 - y);
    if (stencil === null && right === 1 && goesRight) {
      const from = Math.max(0, x0!);
      const part = small.data.subarray(row + from - x0!, row + Math.min(page.width, x1!) - x0!);
      page.data.set(part, y * page.width + from);
      continue;
    }
    for (let x = Math.max(0, x0!), i = y * page.width + x; x < Math.min(page.width, x1!); x++, i++) {
      const light = small.data[row + right * (goesRight ? x - x0! : x1! - 1 - x)]!;
      page.data[i] = stencil === null ? light : ink + ((page.data[i]! - ink) * light) / 255;
    }
  }
  return true;
}
