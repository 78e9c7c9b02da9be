/** Ties and slurs. */
import type { BarParts } from '../bars/bars.ts';
import type { PointBox } from '../types.ts';
import type { Sign } from './things.ts';
import { middleX } from './written.ts';

/** A tie or slur: wide, and thin for its width. */
export function isCurve({ ink, name, kind }: Sign, space: number): boolean {
  if (ink.kind !== 'shape' || name !== '' || kind === 'multi-rest') return false;
  const [width, height] = [ink.box[2] - ink.box[0], ink.box[3] - ink.box[1]];
  const points = ink.rings[0]?.length ?? 0;
  return width > 1.1 * space && height < 0.8 * width && points > 10;
}

/** Which edges of a bar a curve goes over: it does not end at a note of the bar. */
export function curveOver(
  box: PointBox,
  bar: BarParts,
  heads: readonly Sign[],
  space: number,
): [boolean, boolean] {
  const xs = heads.map(middleX);
  const first = Math.min(...xs, bar.x1);
  const last = Math.max(...xs, bar.x0);
  return [box[0] < first - 0.9 * space, box[2] > last + 0.9 * space];
}
