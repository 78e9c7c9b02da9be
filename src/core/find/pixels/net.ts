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

/** The layer's output, with `pad` zeros at each side; negative values are cut off unless it is the last layer. */
export function convolve(input: Tensor, layer: Layer, pad: number, isLast: boolean): Tensor {
  const { from, to, high, wide, down, across, spread, weights, bias } = layer;
  const rows = Math.floor((input.rows - high) / down) + 1;
  const columns = Math.ceil(input.columns / across);
  const out = tensor(to, rows, columns, pad);
  const [step, stride] = [rowOf(input), rowOf(out)];
  const line = new Float32Array(columns);
  for (let o = 0; o < to; o++)
    for (let y = 0; y < rows; y++) {
      line.fill(bias[o]!);
      for (let i = 0; i < from; i++)
        for (let k = 0; k < high; k++) {
          const row = (i * input.rows + y * down + k) * step;
          addTaps(line, input.data, row, across, spread, weights, ((o * from + i) * high + k) * wide, wide);
        }
      const at = (o * rows + y) * stride + pad;
      for (let x = 0; x < columns; x++) out.data[at + x] = isLast || line[x]! > 0 ? line[x]! : 0;
    }
  return out;
}

/** Adds a row of a kernel laid over a row of the input. */
function addTaps(
  line: Float32Array,
  data: Float32Array,
  row: number,
  across: number,
  spread: number,
  weights: Float32Array,
  at: number,
  wide: number,
): void {
  if (wide === 5) {
    const [a, b, c] = [weights[at]!, weights[at + 1]!, weights[at + 2]!];
    const [d, e] = [weights[at + 3]!, weights[at + 4]!];
    for (let x = 0, i = row; x < line.length; x++, i += across)
      line[x]! +=
        a * data[i]! +
        b * data[i + spread]! +
        c * data[i + 2 * spread]! +
        d * data[i + 3 * spread]! +
        e * data[i + 4 * spread]!;
    return;
  }
  for (let k = 0; k < wide; k++) {
    const weight = weights[at + k]!;
    for (let x = 0, i = row + k * spread; x < line.length; x++, i += across) line[x]! += weight * data[i]!;
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
