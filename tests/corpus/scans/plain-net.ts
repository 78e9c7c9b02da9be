/**
 * The net of `src/core/find/pixels/net.ts` as plain loops, with what stands between its layers: what is learnt from,
 * and what the kernels are checked by.
 */
import { padOf, type Layer } from '../../../src/core/find/pixels/net.ts';
import type { Strip } from '../../../src/core/find/pixels/strip.ts';

/** `channels` planes of `rows` × `columns`. */
export interface Tensor {
  readonly channels: number;
  readonly rows: number;
  /** Columns without the zeros at both sides. */
  readonly columns: number;
  /** Zeros at each side of every row, so many. */
  readonly pad: number;
  readonly data: Float64Array;
}

/** Columns of a row with its zeros. */
export const rowOf = ({ columns, pad }: Tensor) => columns + 2 * pad;

export function tensor(channels: number, rows: number, columns: number, pad: number): Tensor {
  return { channels, rows, columns, pad, data: new Float64Array(channels * rows * (columns + 2 * pad)) };
}

/** The layer's output, with `pad` zeros at each side; negative values are cut off unless it is the last layer. */
export function convolve(input: Tensor, layer: Layer, pad: number, isLast: boolean): Tensor {
  const { from, to, high, wide, down, across, bias } = layer;
  const rows = Math.floor((input.rows - high) / down) + 1;
  const columns = Math.ceil(input.columns / across);
  const out = tensor(to, rows, columns, pad);
  const [step, stride] = [rowOf(input), rowOf(out)];
  const [together, add] =
    wide === 5 ? [4, addFives] : high === 3 && wide === 3 ? [2, addSquare] : [4, addAny];
  const lines = Array.from({ length: together }, () => new Float64Array(columns));
  for (let first = 0; first < to; first += together)
    for (let y = 0; y < rows; y++) {
      lines.forEach((line, k) => line.fill(bias[first + k] ?? 0));
      for (let i = 0; i < from; i++)
        add(lines, input.data, (i * input.rows + y * down) * step, step, layer, first, i);
      for (let o = first; o < Math.min(to, first + together); o++) {
        const line = lines[o - first]!;
        const start = (o * rows + y) * stride + pad;
        for (let x = 0; x < columns; x++) out.data[start + x] = isLast || line[x]! > 0 ? line[x]! : 0;
      }
    }
  return out;
}

/**
 * Adds what the kernels from channel `i` to the channels from `first` on make of an input's rows from `row` on, `step`
 * apart, to a line for each. What several channels read of the input is read once; where there are fewer channels than
 * lines, the last lines are read by nobody.
 */
type Adder = (
  lines: readonly Float64Array[],
  data: Float64Array,
  row: number,
  step: number,
  layer: Layer,
  first: number,
  i: number,
) => void;

/** Where a channel's weights from channel `i` begin; those of the last one where there are no more. */
const kernelAt = ({ from, to, high, wide }: Layer, channel: number, i: number) =>
  (Math.min(to - 1, channel) * from + i) * high * wide;

/** Four channels, kernels of any height and five taps. */
const addFives: Adder = (lines, data, row, step, layer, first, i) => {
  const p = kernelAt(layer, first, i);
  const q = kernelAt(layer, first + 1, i);
  const r = kernelAt(layer, first + 2, i);
  const s = kernelAt(layer, first + 3, i);
  for (let k = 0, tap = 0; k < layer.high; k++, tap += 5)
    addTaps(lines, data, row + k * step, layer, p + tap, q + tap, r + tap, s + tap);
};

/** One row of these kernels, whose weights begin at `p`, `q`, `r` and `s`. */
function addTaps(
  lines: readonly Float64Array[],
  data: Float64Array,
  row: number,
  { across, spread, weights }: Layer,
  p: number,
  q: number,
  r: number,
  s: number,
): void {
  const one = lines[0]!;
  const two = lines[1]!;
  const three = lines[2]!;
  const four = lines[3]!;
  const p0 = weights[p]!;
  const p1 = weights[p + 1]!;
  const p2 = weights[p + 2]!;
  const p3 = weights[p + 3]!;
  const p4 = weights[p + 4]!;
  const q0 = weights[q]!;
  const q1 = weights[q + 1]!;
  const q2 = weights[q + 2]!;
  const q3 = weights[q + 3]!;
  const q4 = weights[q + 4]!;
  const r0 = weights[r]!;
  const r1 = weights[r + 1]!;
  const r2 = weights[r + 2]!;
  const r3 = weights[r + 3]!;
  const r4 = weights[r + 4]!;
  const s0 = weights[s]!;
  const s1 = weights[s + 1]!;
  const s2 = weights[s + 2]!;
  const s3 = weights[s + 3]!;
  const s4 = weights[s + 4]!;
  for (let x = 0, i = row; x < one.length; x++, i += across) {
    const a = data[i]!;
    const b = data[i + spread]!;
    const c = data[i + 2 * spread]!;
    const d = data[i + 3 * spread]!;
    const e = data[i + 4 * spread]!;
    one[x]! += p0 * a + p1 * b + p2 * c + p3 * d + p4 * e;
    two[x]! += q0 * a + q1 * b + q2 * c + q3 * d + q4 * e;
    three[x]! += r0 * a + r1 * b + r2 * c + r3 * d + r4 * e;
    four[x]! += s0 * a + s1 * b + s2 * c + s3 * d + s4 * e;
  }
}

/** Two channels, kernels of three by three. */
const addSquare: Adder = (lines, data, row, step, layer, first, i) => {
  const { across, spread, weights } = layer;
  const one = lines[0]!;
  const two = lines[1]!;
  const p = kernelAt(layer, first, i);
  const q = kernelAt(layer, first + 1, i);
  const p0 = weights[p]!;
  const p1 = weights[p + 1]!;
  const p2 = weights[p + 2]!;
  const p3 = weights[p + 3]!;
  const p4 = weights[p + 4]!;
  const p5 = weights[p + 5]!;
  const p6 = weights[p + 6]!;
  const p7 = weights[p + 7]!;
  const p8 = weights[p + 8]!;
  const q0 = weights[q]!;
  const q1 = weights[q + 1]!;
  const q2 = weights[q + 2]!;
  const q3 = weights[q + 3]!;
  const q4 = weights[q + 4]!;
  const q5 = weights[q + 5]!;
  const q6 = weights[q + 6]!;
  const q7 = weights[q + 7]!;
  const q8 = weights[q + 8]!;
  for (let x = 0, m = row; x < one.length; x++, m += across) {
    const n = m + step;
    const o = n + step;
    const a = data[m]!;
    const b = data[m + spread]!;
    const c = data[m + 2 * spread]!;
    const d = data[n]!;
    const e = data[n + spread]!;
    const f = data[n + 2 * spread]!;
    const g = data[o]!;
    const h = data[o + spread]!;
    const j = data[o + 2 * spread]!;
    one[x]! += p0 * a + p1 * b + p2 * c + p3 * d + p4 * e + p5 * f + p6 * g + p7 * h + p8 * j;
    two[x]! += q0 * a + q1 * b + q2 * c + q3 * d + q4 * e + q5 * f + q6 * g + q7 * h + q8 * j;
  }
};

/** Kernels of any size. */
const addAny: Adder = (lines, data, row, step, layer, first, i) => {
  const { high, wide, across, spread, weights } = layer;
  lines.forEach((line, o) => {
    for (let k = 0, at = kernelAt(layer, first + o, i); k < high; k++)
      for (let tap = 0; tap < wide; tap++, at++) {
        const weight = weights[at]!;
        for (let x = 0, m = row + k * step + tap * spread; x < line.length; x++, m += across)
          line[x]! += weight * data[m]!;
      }
  });
};

/** Outputs of all layers, the input first. */
export function outputsOf(input: Tensor, layers: readonly Layer[]): Tensor[] {
  const all = [input];
  layers.forEach((layer, k) => {
    const next = layers[k + 1];
    all.push(convolve(all[k]!, layer, next ? padOf(next) : 0, next === undefined));
  });
  return all;
}

/** A strip as the net's input: mean 0 and deviation 1 over the strip. */
export function inputOf({ rows, columns, data }: Strip, pad: number): Tensor {
  const { mean, scale } = evenness(data);
  const input = tensor(1, rows, columns, pad);
  for (let y = 0, i = 0; y < rows; y++)
    for (let x = 0, at = y * (columns + 2 * pad) + pad; x < columns; x++)
      input.data[at + x] = (data[i++]! - mean) * scale;
  return input;
}

/** The mean of bytes, and what makes their deviation from it 1. */
export function evenness(data: Uint8Array): { readonly mean: number; readonly scale: number } {
  let [sum, squares] = [0, 0];
  for (const value of data) {
    sum += value;
    squares += value * value;
  }
  const mean = sum / data.length;
  return { mean, scale: 1 / (Math.sqrt(Math.max(0, squares / data.length - mean * mean)) || 1) };
}
