import type { BarStroke, Dot } from '../types.ts';
import type { Straight } from './straight.ts';

/** How far from a stroke repeat dots stand, in spaces, edge to middle. */
const NEAR = 0.3;
const FAR = 1.7;
/** How much darker a dot is than what stands left and right of it, and than the outer spaces, 0–255. */
const STANDS_OUT = 70;

/** Pairs of dots in the second and third space beside the strokes, both dots of each. */
export function dotsOf(straight: Straight, strokes: readonly BarStroke[]): Dot[] {
  const { unit, tops } = straight;
  const dots: Dot[] = [];
  for (const top of tops)
    for (const { x0, x1 } of strokes)
      for (const [from, to] of [
        [x0 - FAR * unit, x0 - NEAR * unit],
        [x1 + NEAR * unit, x1 + FAR * unit],
      ] as const) {
        const x = pairIn(straight, top, from, to);
        if (x !== null)
          for (const k of [1.5, 2.5]) dots.push({ x, y: top + k * unit, width: 0.4 * unit });
      }
  return dots;
}

/** Column of the clearest pair between two columns; null when there is none. */
function pairIn(straight: Straight, top: number, from: number, to: number): number | null {
  const { unit } = straight;
  const half = Math.max(1, Math.round(0.14 * unit));
  const patch = (u: number, k: number) => mean(straight, u - half, u + half, top + k * unit, half);
  let best: number | null = null;
  let most = STANDS_OUT;
  for (let u = Math.ceil(from); u <= to; u++) {
    const inner = Math.min(patch(u, 1.5), patch(u, 2.5));
    if (inner <= most) continue;
    const side = Math.max(1, Math.round(0.42 * unit));
    // Left and right of a dot is white; so are the outer spaces above and below the pair.
    const beside = [1.5, 2.5].map((k) => Math.min(patch(u - side, k), patch(u + side, k)));
    const outer = Math.max(patch(u, 0.5), patch(u, 3.5));
    const out = inner - Math.max(...beside, outer);
    if (out > most) [best, most] = [u + 0.5, out];
  }
  return best;
}

function mean({ width, height, data }: Straight, u0: number, u1: number, v: number, half: number): number {
  let sum = 0;
  let count = 0;
  for (let y = Math.round(v) - half; y <= v + half; y++)
    for (let u = u0; u <= u1; u++, count++)
      if (u >= 0 && u < width && y >= 0 && y < height) sum += data[y * width + u]!;
  return sum / count;
}
