/**
 * A small convolutional net over the columns of a straightened staff: it says of every place along the staff
 * which bar line stands there, if any. Layers are plain convolutions without padding from top to bottom and
 * with zeros to the left and right, each but the last cut off below zero.
 */

/** The shape of one layer; a tensor holds `channels` planes of `rows` × `columns`. */
export interface Shape {
  readonly from: number;
  readonly to: number;
  readonly high: number;
  readonly wide: number;
  /** Rows and columns from one place of the kernel to the next. */
  readonly down: number;
  readonly across: number;
  /** Columns from tap to tap. */
  readonly spread: number;
}

export interface Layer extends Shape {
  /** [to][from][high][wide]. */
  readonly weights: Float32Array;
  readonly bias: Float32Array;
}

export interface Tensor {
  readonly channels: number;
  readonly rows: number;
  /** Columns without the zeros at both sides. */
  readonly columns: number;
  /** Zeros at each side of every row, so many. */
  readonly pad: number;
  readonly data: Float32Array;
}

/** Columns of a row with its zeros. */
export const rowOf = ({ columns, pad }: Tensor) => columns + 2 * pad;

/** Zeros that a layer needs at each side of its input. */
export const padOf = ({ wide, spread }: Shape) => (spread * (wide - 1)) / 2;

export function tensor(channels: number, rows: number, columns: number, pad: number): Tensor {
  return { channels, rows, columns, pad, data: new Float32Array(channels * rows * (columns + 2 * pad)) };
}

/** So many channels are added up together: what they read of the input is read once. */
const TOGETHER = 2;

/** The layer's output, with `pad` zeros at each side; negative values are cut off unless it is the last layer. */
export function convolve(input: Tensor, layer: Layer, pad: number, isLast: boolean): Tensor {
  const { from, to, high, wide, down, across, bias } = layer;
  const rows = Math.floor((input.rows - high) / down) + 1;
  const columns = Math.ceil(input.columns / across);
  const out = tensor(to, rows, columns, pad);
  const [step, stride] = [rowOf(input), rowOf(out)];
  /** From a channel's weights to the next one's. */
  const size = from * high * wide;
  const lines = Array.from({ length: TOGETHER }, () => new Float32Array(columns));
  for (let first = 0; first < to; first += TOGETHER)
    for (let y = 0; y < rows; y++) {
      lines.forEach((line, k) => line.fill(bias[first + k] ?? 0));
      for (let i = 0, at = first * size; i < from; i++)
        for (let k = 0; k < high; k++, at += wide)
          addTaps(lines, input.data, (i * input.rows + y * down + k) * step, layer, at, size);
      for (let o = first; o < Math.min(to, first + TOGETHER); o++) {
        const line = lines[o - first]!;
        const start = (o * rows + y) * stride + pad;
        for (let x = 0; x < columns; x++) out.data[start + x] = isLast || line[x]! > 0 ? line[x]! : 0;
      }
    }
  return out;
}

/** Adds rows of kernels, the first at `at` of the weights and the next `size` on, laid over a row of the input. */
function addTaps(
  lines: readonly Float32Array[],
  data: Float32Array,
  row: number,
  { across, spread, wide, weights }: Layer,
  at: number,
  size: number,
): void {
  const [one, other] = [lines[0]!, lines[1]!];
  // Where channels are odd in number the last is added to a line that nobody reads.
  const next = at + size < weights.length ? at + size : at;
  if (wide !== 5) {
    for (let k = 0; k < wide; k++) {
      const p = weights[at + k]!;
      const q = weights[next + k]!;
      for (let x = 0, i = row + k * spread; x < one.length; x++, i += across) {
        const value = data[i]!;
        one[x]! += p * value;
        other[x]! += q * value;
      }
    }
    return;
  }
  const [a, b, c] = [weights[at]!, weights[at + 1]!, weights[at + 2]!];
  const [d, e] = [weights[at + 3]!, weights[at + 4]!];
  const [a2, b2, c2] = [weights[next]!, weights[next + 1]!, weights[next + 2]!];
  const [d2, e2] = [weights[next + 3]!, weights[next + 4]!];
  for (let x = 0, i = row; x < one.length; x++, i += across) {
    const p = data[i]!;
    const q = data[i + spread]!;
    const r = data[i + 2 * spread]!;
    const s = data[i + 3 * spread]!;
    const t = data[i + 4 * spread]!;
    one[x]! += a * p + b * q + c * r + d * s + e * t;
    other[x]! += a2 * p + b2 * q + c2 * r + d2 * s + e2 * t;
  }
}

/** Outputs of all layers, the input first. */
export function outputsOf(input: Tensor, layers: readonly Layer[]): Tensor[] {
  const all = [input];
  layers.forEach((layer, k) => {
    const next = layers[k + 1];
    all.push(convolve(all[k]!, layer, next ? padOf(next) : 0, next === undefined));
  });
  return all;
}
