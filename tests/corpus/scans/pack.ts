/** A net as it is kept in the repository. */
import type { Layer } from '../../../src/core/find/pixels/net.ts';

const short = (value: number) => Number(value.toPrecision(5));

/** The layers rounded to a byte a weight, as JSON. */
export function packed(layers: readonly Layer[]): string {
  const kernels = layers.map(({ weights, to }) =>
    Array.from({ length: to }, (_, o) =>
      weights.subarray((o * weights.length) / to, ((o + 1) * weights.length) / to),
    ),
  );
  const scales = kernels.map((list) =>
    list.map((kernel) => short(kernel.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-6) / 127)),
  );
  const bytes = kernels.map((list, k) =>
    list
      .flatMap((kernel, o) => [...kernel].map((value) => Math.round(value / scales[k]![o]!) + 128))
      .map((byte) => byte.toString(16).padStart(2, '0'))
      .join(''),
  );
  const biases = layers.map(({ bias }) => [...bias].map(short));
  return `${JSON.stringify({ scales, biases, bytes })}\n`;
}
