/** What stands around a system on its page, and what belongs to it. */
import type { PointBox, StaffParts } from '../types.ts';
import type { Straights } from './straight.ts';
import { bottomOf, topOf } from './systems.ts';

/** The room of a system up to its neighbours, page points. */
export interface Around {
  /** Bottom of the system above and top of the one below, where they share a stretch of the page's width. */
  readonly ceiling: number;
  readonly floor: number;
  /** End of what stands wholly at its left, start of what stands wholly at its right: the other column. */
  readonly left: number;
  readonly right: number;
}

export function aroundOf(
  staves: readonly StaffParts[],
  systems: readonly (readonly StaffParts[])[],
  { width, height }: { readonly width: number; readonly height: number },
): Around {
  let [ceiling, floor, left, right] = [0, height, 0, width];
  const { x0, x1 } = staves[0]!;
  for (const other of systems) {
    if (other === staves) continue;
    const first = other[0]!;
    if (first.x1 < x0) left = Math.max(left, first.x1);
    else if (first.x0 > x1) right = Math.min(right, first.x0);
    else {
      const bottom = bottomOf(other.at(-1)!);
      if (bottom < topOf(staves[0]!)) ceiling = Math.max(ceiling, bottom);
      if (topOf(first) > bottomOf(staves.at(-1)!)) floor = Math.min(floor, topOf(first));
    }
  }
  return { ceiling, floor, left, right };
}

/** It reaches into the room of a system. */
export const isAround = (top: number, bottom: number, { ceiling, floor }: Around) =>
  bottom >= ceiling && top <= floor;

/** The lines in the room of a system. */
export const linesAround = ({ across, upright }: Straights, around: Around): Straights => ({
  across: across.filter(({ at }) => isAround(at, at, around)),
  upright: upright.filter(({ from, to }) => isAround(from, to, around)),
});

/** How far over and under its staves the things of a system stand, in spaces: notes on ledger lines. */
const FAR = 7;

/** Heights between which something belongs to a system: what stands between two is the nearer one's. */
export function reachOf(
  staves: readonly StaffParts[],
  { ceiling, floor }: Around,
): readonly [top: number, bottom: number] {
  const [top, bottom] = [topOf(staves[0]!), bottomOf(staves.at(-1)!)];
  const far = FAR * staves[0]!.space;
  return [
    Math.max(top - far, ceiling > 0 ? (top + ceiling) / 2 : 0),
    Math.min(bottom + far, (bottom + floor) / 2),
  ];
}

/** Words under a staff are so many times closer to it than to the next. */
const CLOSER = 2.5;

/** Words over a system belong to it rather than to the one above, unless they hang close under that one. */
export function belongs(box: PointBox, staves: readonly StaffParts[], { ceiling, floor }: Around): boolean {
  const { x0, x1, space } = staves[0]!;
  if (box[2] < x0 - 4 * space || box[0] > x1 + 8 * space) return false;
  const y = (box[1] + box[3]) / 2;
  const [top, bottom] = [topOf(staves[0]!), bottomOf(staves.at(-1)!)];
  if (y >= top && y <= bottom) return true;
  if (y < top)
    return y > ceiling && top - y < 14 * space && (ceiling === 0 || top - y < CLOSER * (y - ceiling));
  return y < floor && y - bottom < 8 * space && CLOSER * (y - bottom) <= floor - y;
}

/** Segno and coda stand over their system, however high. */
export function isOver(box: PointBox, staves: readonly StaffParts[], { ceiling }: Around): boolean {
  const { x0, x1, space } = staves[0]!;
  const y = (box[1] + box[3]) / 2;
  const top = topOf(staves[0]!);
  return y < top && y > ceiling && top - y < 16 * space && box[2] > x0 - 2 * space && box[0] < x1 + 2 * space;
}
