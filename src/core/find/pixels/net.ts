/**
 * A small convolutional net over the columns of a straightened staff: it says of every place along the staff
 * which bar line stands there, if any. Layers are plain convolutions without padding from top to bottom and
 * with zeros to the left and right, each but the last cut off below zero. The last one's output has one row.
 */
import { kernels, lent } from '../kernels/kernels.ts';
import type { Strip } from './strip.ts';

/** The shape of one layer. */
export interface Shape {
  /** Channels of its input and of its output. */
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

/** What a net says: `channels` values for each of so many places, [channel][place]. */
export interface Said {
  readonly channels: number;
  readonly columns: number;
  readonly data: Float32Array | Float64Array;
}

/** Zeros that a layer needs at each side of its input. */
export const padOf = ({ wide, spread }: Shape) => (spread * (wide - 1)) / 2;

/** Channels are reckoned by four. */
const fours = (channels: number) => Math.ceil(channels / 4) * 4;

/** Weights and biases in the order in which the kernel reads them: four channels after four, [high][wide][from][4]. */
interface Laid {
  readonly weights: Float32Array;
  readonly bias: Float32Array;
}

/** Layers do not change once they are asked. */
const laid = new WeakMap<Layer, Laid>();

function laidOut(layer: Layer): Laid {
  const known = laid.get(layer);
  if (known) return known;
  const { from, to, high, wide } = layer;
  const places = high * wide;
  const weights = new Float32Array(fours(to) * from * places);
  for (let o = 0; o < to; o++)
    for (let i = 0; i < from; i++)
      for (let k = 0; k < places; k++)
        weights[(((o >> 2) * places + k) * from + i) * 4 + (o & 3)] =
          layer.weights[(o * from + i) * places + k]!;
  const bias = new Float32Array(fours(to));
  bias.set(layer.bias);
  laid.set(layer, { weights, bias });
  return { weights, bias };
}

/** The size of a layer's input, with its zeros at each side. */
interface Size {
  readonly rows: number;
  readonly columns: number;
  readonly pad: number;
  /** Values of a place; those beyond the layer's own are 0. */
  readonly stride: number;
}

const sizeOf = ({ rows, columns, pad, stride }: Size) => 4 * rows * (columns + 2 * pad) * stride;

/** What is there behind a layer, for one that needs `pad` zeros. */
const behind = (input: Size, { high, down, across, to }: Shape, pad: number): Size => ({
  rows: Math.floor((input.rows - high) / down) + 1,
  columns: Math.ceil(input.columns / across),
  pad,
  stride: fours(to),
});

/** What a net says along a strip. Its input has mean 0 and deviation 1, whatever the strip's paper and its ink. */
export function saidAlong({ rows, columns, data }: Strip, net: readonly Layer[]): Said {
  const first: Size = { rows, columns, pad: padOf(net[0]!), stride: 1 };
  const sizes: Size[] = [first];
  net.forEach((layer, k) =>
    sizes.push(behind(sizes[k]!, layer, k + 1 < net.length ? padOf(net[k + 1]!) : 0)),
  );
  const most = Math.max(...sizes.map(sizeOf));
  const weights = Math.max(...net.map((layer) => 4 * laidOut(layer).weights.length));
  const bias = Math.max(...net.map(({ to }) => 4 * fours(to)));
  const { at, bytes, floats } = lent(data.length, most, most, weights, bias);
  const [given, one, other, weightsAt, biasAt] = at;
  bytes.set(data, given);
  const { mean, scale } = evenness(given, data.length);
  kernels().normalised(given, rows, columns, first.pad, mean, scale, one);
  let [from, into] = [one, other];
  net.forEach((layer, k) => {
    const { weights, bias } = laidOut(layer);
    floats.set(weights, weightsAt / 4);
    floats.set(bias, biasAt / 4);
    const [input, output] = [sizes[k]!, sizes[k + 1]!];
    const cut = k + 1 < net.length ? 1 : 0;
    // prettier-ignore
    kernels().convolve(
      from, input.columns + 2 * input.pad, input.stride, layer.from,
      layer.high, layer.wide, layer.down, layer.across, layer.spread, weightsAt, biasAt,
      into, output.rows, output.columns, output.stride, output.pad, cut,
    );
    [from, into] = [into, from];
  });
  const { columns: places, stride } = sizes.at(-1)!;
  const channels = net.at(-1)!.to;
  const said = new Float32Array(channels * places);
  for (let c = 0; c < channels; c++)
    for (let x = 0, i = from / 4 + c; x < places; x++, i += stride) said[c * places + x] = floats[i]!;
  return { channels, columns: places, data: said };
}

/** The mean of so many bytes of the kernels' memory, and what makes their deviation from it 1. */
function evenness(at: number, count: number): { readonly mean: number; readonly scale: number } {
  const mean = kernels().sum(at, count) / count;
  const square = kernels().squares(at, count) / count;
  return { mean, scale: 1 / (Math.sqrt(Math.max(0, square - mean * mean)) || 1) };
}
