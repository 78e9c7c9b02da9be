import { kernels, lent } from '../../core/find/kernels/kernels.ts';
import type { Picture } from '../../core/find/pixels/index.ts';
import { greyRows, type Decoded } from './decoded.ts';

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

/** So many rows are made grey at once. */
const TOGETHER = 64;

/**
 * A decoded picture in grey at another size, every pixel the mean of what it covers. Its rows are read once, one
 * after another: nothing else of its own size is needed.
 * @param picture one that `isComplete`
 */
export function reduced(picture: Decoded, width: number, height: number): Picture {
  if (width === picture.width && height === picture.height) return asIs(picture);
  const across = spansOf(picture.width, width);
  const down = spansOf(picture.height, height);
  const scale = ((width / picture.width) * height) / picture.height;
  const rows = greyRows(picture);
  const each = picture.width;
  const words = 4 * width;
  const { at, bytes, ...views } = lent(
    rows.room(TOGETHER),
    TOGETHER * each,
    4 * each,
    words,
    words,
    words,
    words,
    width,
  );
  const [room, grey, sums, first, last, head, tail, out] = at;
  views.words.set(across.first, first / 4);
  views.words.set(across.last, last / 4);
  views.floats.set(across.head, head / 4);
  views.floats.set(across.tail, tail / 4);
  const data = new Uint8Array(width * height);
  /** Rows that are grey now. */
  let [from, to] = [0, 0];
  for (let y = 0; y < height; y++) {
    bytes.fill(0, sums, sums + 4 * each);
    for (let row = down.first[y]!; row <= down.last[y]!; row++) {
      if (row >= to) {
        [from, to] = [row, Math.min(picture.height, row + TOGETHER)];
        rows.read(bytes, grey, room, from, to - from);
      }
      const share = row === down.first[y] ? down.head[y]! : row === down.last[y] ? down.tail[y]! : 1;
      kernels().summed(grey + (row - from) * each, each, share, sums);
    }
    kernels().gathered(sums, width, first, last, head, tail, scale, out);
    data.set(bytes.subarray(out, out + width), y * width);
  }
  return { width, height, data };
}

function asIs(picture: Decoded): Picture {
  const { width, height } = picture;
  const rows = greyRows(picture);
  const { at, bytes } = lent(rows.room(TOGETHER), TOGETHER * width);
  const [room, grey] = at;
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y += TOGETHER) {
    const count = Math.min(TOGETHER, height - y);
    rows.read(bytes, grey, room, y, count);
    data.set(bytes.subarray(grey, grey + count * width), y * width);
  }
  return { width, height, data };
}
