import type { Layer } from './net.ts';
import { SHAPES } from './shapes.ts';

/** A net as it is kept: a byte a weight, as two hexadecimal digits, times the scale of its kernel. */
export interface Packed {
  /** Per layer and kernel. */
  readonly scales: readonly (readonly number[])[];
  readonly biases: readonly (readonly number[])[];
  readonly bytes: readonly string[];
}

/** The net of these weights and shapes. */
export function unpacked({ scales, biases, bytes }: Packed, shapes = SHAPES): Layer[] {
  return shapes.map((shape, k) => {
    const text = bytes[k]!;
    const weights = new Float32Array(text.length / 2);
    const size = weights.length / shape.to;
    for (let i = 0; i < weights.length; i++)
      weights[i] = (parseInt(text.slice(2 * i, 2 * i + 2), 16) - 128) * scales[k]![Math.floor(i / size)]!;
    return { ...shape, weights, bias: Float32Array.from(biases[k]!) };
  });
}
