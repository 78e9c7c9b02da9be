import type { Picture } from '../../core/find/pixels/index.ts';
import { rowsOf, type Decoded } from './decoded.ts';

/** What each of so many equal parts covers of a row of pixels, the ends in part. */
interface Spans {
  readonly first: Int32Array;
  readonly last: Int32Array;
  /** Shares of the first and of the last pixel; where they are one, the first holds it. */
  readonly head: Float32Array;
  readonly tail: Float32Array;
}

function spansOf(pixels: number, parts: number): Spans {
  const [first, last] = [new Int32Array(parts), new Int32Array(parts)];
  const [head, tail] = [new Float32Array(parts), new Float32Array(parts)];
  for (let k = 0; k < parts; k++) {
    const [from, to] = [(k * pixels) / parts, ((k + 1) * pixels) / parts];
    first[k] = Math.min(pixels - 1, Math.floor(from));
    last[k] = Math.max(first[k]!, Math.min(pixels - 1, Math.ceil(to) - 1));
    head[k] = Math.min(to, first[k]! + 1) - from;
    tail[k] = last[k]! > first[k]! ? to - last[k]! : 0;
  }
  return { first, last, head, tail };
}

/**
 * A decoded picture in grey at another size, every pixel the mean of what it covers. Its rows are read once, one
 * after another: nothing else of its own size is needed.
 * @param picture one that `isComplete`
 */
export function reduced(picture: Decoded, width: number, height: number): Picture {
  const read = rowsOf(picture);
  const data = new Uint8Array(width * height);
  if (width === picture.width && height === picture.height) {
    for (let y = 0; y < height; y++) read(y, data.subarray(y * width, (y + 1) * width));
    return { width, height, data };
  }
  const light = new Uint8Array(picture.width);
  /** Sums of the columns over the rows that become one. */
  const sums = new Float32Array(picture.width);
  const across = spansOf(picture.width, width);
  const down = spansOf(picture.height, height);
  const scale = ((width / picture.width) * height) / picture.height;
  let at = -1;
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    const [first, last] = [down.first[y]!, down.last[y]!];
    for (let row = first; row <= last; row++) {
      if (row !== at) read((at = row), light);
      add(sums, light, row === first ? down.head[y]! : row === last ? down.tail[y]! : 1);
    }
    join(sums, across, scale, data.subarray(y * width, (y + 1) * width));
  }
  return { width, height, data };
}

function add(sums: Float32Array, light: Uint8Array, share: number): void {
  for (let x = 0; x < sums.length; x++) sums[x]! += share * light[x]!;
}

/** Sums of columns as the pixels of one row. */
function join(sums: Float32Array, { first, last, head, tail }: Spans, scale: number, row: Uint8Array): void {
  for (let x = 0; x < row.length; x++) {
    const [from, to] = [first[x]!, last[x]!];
    let sum = head[x]! * sums[from]! + tail[x]! * sums[to]!;
    for (let k = from + 1; k < to; k++) sum += sums[k]!;
    row[x] = sum * scale + 0.5;
  }
}
