/** Learning by example: the gradient of a net's error, and steps along it (Kingma and Ba, "Adam", 2015). */
import type { Layer, Shape } from '../../../src/core/find/pixels/net.ts';
import { readFileSync } from 'node:fs';
import { unpacked, type Packed } from '../../../src/core/find/pixels/weights.ts';
import type { Random } from '../tunes/random.ts';
import { outputsOf, rowOf, type Tensor } from './plain-net.ts';

/** Weights, then biases of a layer: their gradients, and the running means of Adam. */
interface Slopes {
  readonly weights: Float32Array;
  readonly bias: Float32Array;
}

export interface Learner {
  readonly layers: readonly Layer[];
  readonly slopes: readonly Slopes[];
  readonly first: readonly Slopes[];
  readonly second: readonly Slopes[];
  steps: number;
}

const sizeOf = ({ from, to, high, wide }: Shape) => from * to * high * wide;

/** A net of random weights (He et al. 2015: deviation √(2 / inputs)), or of those in a file. */
export function newLearner(shapes: readonly Shape[], random: Random, from = ''): Learner {
  const normal = () => Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next());
  const layers = shapes.map((shape) => {
    const scale = Math.sqrt((2 * shape.to) / sizeOf(shape));
    const weights = Float32Array.from({ length: sizeOf(shape) }, () => scale * normal());
    return { ...shape, weights, bias: new Float32Array(shape.to) };
  });
  if (from !== '')
    unpacked(JSON.parse(readFileSync(from, 'utf8')) as Packed, shapes).forEach((layer, k) => {
      layers[k]!.weights.set(layer.weights);
      layers[k]!.bias.set(layer.bias);
    });
  const empty = () =>
    shapes.map((shape) => ({ weights: new Float32Array(sizeOf(shape)), bias: new Float32Array(shape.to) }));
  return { layers, slopes: empty(), first: empty(), second: empty(), steps: 0 };
}

/**
 * Adds the gradient of one strip's error and gives the error: the mean over its columns of −log of the chance
 * of what stands there. Columns labelled `skip` do not count.
 */
export function backward(learner: Learner, input: Tensor, labels: Uint8Array, skip: number): number {
  const all = outputsOf(input, learner.layers);
  const last = all.at(-1)!;
  const { channels, columns, data } = last;
  const slope = new Float32Array(data.length);
  let error = 0;
  let counted = 0;
  for (let x = 0; x < columns; x++) if (labels[x] !== skip) counted++;
  for (let x = 0; x < columns; x++) {
    if (labels[x] === skip) continue;
    let most = -Infinity;
    for (let c = 0; c < channels; c++) most = Math.max(most, data[c * columns + x]!);
    let sum = 0;
    for (let c = 0; c < channels; c++) sum += Math.exp(data[c * columns + x]! - most);
    for (let c = 0; c < channels; c++) {
      const chance = Math.exp(data[c * columns + x]! - most) / sum;
      slope[c * columns + x] = (chance - (c === labels[x] ? 1 : 0)) / counted;
      if (c === labels[x]) error -= Math.log(chance + 1e-9) / counted;
    }
  }
  backFrom(learner, all, slope);
  return error;
}

/** Adds the gradient that follows from the slope of the last output. `all`: see `outputsOf`. */
export function backFrom(learner: Learner, all: readonly Tensor[], last: Float32Array<ArrayBuffer>): void {
  let slope = last;
  for (let k = learner.layers.length - 1; k >= 0; k--)
    slope = backThrough(all[k]!, all[k + 1]!, learner.layers[k]!, learner.slopes[k]!, slope, k > 0);
}

/** Gradients of one layer; gives that of its input, where wanted. `slope` is that of its output. */
function backThrough(
  input: Tensor,
  output: Tensor,
  layer: Layer,
  slopes: Slopes,
  slope: Float32Array,
  isWanted: boolean,
): Float32Array<ArrayBuffer> {
  const { from, to, high, wide, down, across, spread, weights } = layer;
  const before = new Float32Array(isWanted ? input.data.length : 0);
  const [step, stride] = [rowOf(input), rowOf(output)];
  const { columns } = output;
  const line = new Float32Array(columns);
  for (let o = 0; o < to; o++)
    for (let y = 0; y < output.rows; y++) {
      const at = (o * output.rows + y) * stride + output.pad;
      line.set(slope.subarray(at, at + columns));
      let isFlat = true;
      for (let x = 0; x < columns; x++) {
        slopes.bias[o]! += line[x]!;
        if (line[x] !== 0) isFlat = false;
      }
      if (isFlat) continue;
      for (let i = 0; i < from; i++)
        for (let k = 0; k < high; k++) {
          const row = (i * input.rows + y * down + k) * step;
          const w = ((o * from + i) * high + k) * wide;
          addProducts(slopes.weights, w, wide, line, input.data, row, across, spread);
          if (isWanted) spreadBack(before, row, line, weights, w, wide, across, spread);
        }
    }
  // What was cut off has no slope; neither have the zeros at the sides.
  if (isWanted) for (let i = 0; i < before.length; i++) if (input.data[i]! <= 0) before[i] = 0;
  return before;
}

function addProducts(
  sums: Float32Array,
  at: number,
  wide: number,
  line: Float32Array,
  data: Float64Array,
  row: number,
  across: number,
  spread: number,
): void {
  if (wide === 5) {
    let [a, b, c, d, e] = [0, 0, 0, 0, 0];
    for (let x = 0, i = row; x < line.length; x++, i += across) {
      const g = line[x]!;
      a += g * data[i]!;
      b += g * data[i + spread]!;
      c += g * data[i + 2 * spread]!;
      d += g * data[i + 3 * spread]!;
      e += g * data[i + 4 * spread]!;
    }
    sums[at]! += a;
    sums[at + 1]! += b;
    sums[at + 2]! += c;
    sums[at + 3]! += d;
    sums[at + 4]! += e;
    return;
  }
  for (let k = 0; k < wide; k++) {
    let sum = 0;
    for (let x = 0, i = row + k * spread; x < line.length; x++, i += across) sum += line[x]! * data[i]!;
    sums[at + k]! += sum;
  }
}

function spreadBack(
  before: Float32Array,
  row: number,
  line: Float32Array,
  weights: Float32Array,
  at: number,
  wide: number,
  across: number,
  spread: number,
): void {
  for (let k = 0; k < wide; k++) {
    const weight = weights[at + k]!;
    for (let x = 0, i = row + k * spread; x < line.length; x++, i += across) before[i]! += weight * line[x]!;
  }
}

/** One step of Adam along the gradients of `strips` strips, which are then forgotten. */
export function step(learner: Learner, strips: number, rate: number): void {
  const t = ++learner.steps;
  const [b1, b2] = [0.9, 0.999];
  learner.layers.forEach((layer, k) => {
    for (const part of ['weights', 'bias'] as const) {
      const [values, slope] = [layer[part], learner.slopes[k]![part]];
      const [m, v] = [learner.first[k]![part], learner.second[k]![part]];
      for (let i = 0; i < values.length; i++) {
        const g = slope[i]! / strips;
        m[i] = b1 * m[i]! + (1 - b1) * g;
        v[i] = b2 * v[i]! + (1 - b2) * g * g;
        values[i]! -= (rate * (m[i]! / (1 - b1 ** t))) / (Math.sqrt(v[i]! / (1 - b2 ** t)) + 1e-8);
      }
      slope.fill(0);
    }
  });
}
