/** What stands at every place along a staff of a straightened picture, from the engraver's truth. */
import type { BarLineKind } from '../../../src/core/find/types.ts';
import type { Straight } from '../../../src/core/find/pixels/straight.ts';
import type { Box, TrueSystem } from '../truth.ts';
import type { Point } from './defects.ts';

/** The upright box around a box whose edges are followed point by point. */
export function movedBox([x0, y0, x1, y1]: Readonly<Box>, to: (point: Point) => Point): Box {
  const points: Point[] = [];
  for (let i = 0; i <= 16; i++) {
    const [x, y] = [x0 + ((x1 - x0) * i) / 16, y0 + ((y1 - y0) * i) / 16];
    points.push(to([x, y0]), to([x, y1]), to([x0, y]), to([x1, y]));
  }
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** A bar line of the truth: its ends on the page as it suffered, pixels of the printed page. */
export interface TrueLine {
  readonly kind: BarLineKind;
  readonly top: Point;
  readonly bottom: Point;
}

export interface MovedSystem {
  readonly lines: readonly TrueLine[];
  /** Ends of the staves, as a line is. */
  readonly left: TrueLine;
  readonly right: TrueLine;
}

/** A system of the truth, moved as the page was. */
export function movedSystem(system: TrueSystem, scale: number, to: (point: Point) => Point): MovedSystem {
  const [x0, y0, x1, y1] = system.box;
  const line = (x: number, kind: BarLineKind): TrueLine => ({
    kind,
    top: to([x * scale, y0 * scale]),
    bottom: to([x * scale, y1 * scale]),
  });
  const lines = new Map<number, TrueLine>();
  for (const { box, left, right } of system.bars) {
    if (left !== 'none') lines.set(box[0], line(box[0], left));
    if (right !== 'none') lines.set(box[2], line(box[2], right));
  }
  return { lines: [...lines.values()], left: line(x0, 'none'), right: line(x1, 'none') };
}

/** Where a line is at a height of the page. */
const xAt = ({ top, bottom }: TrueLine, y: number) =>
  top[0] + ((bottom[0] - top[0]) * (y - top[1])) / (bottom[1] - top[1]);

/** Column of a straightened picture at which a line crosses the middle of staff `k`; `zoom`: its page / the printed one. */
function columnOf(straight: Straight, k: number, line: TrueLine, zoom: number): number {
  const v = straight.tops[k]! + 2 * straight.unit;
  let [low, high] = [0, straight.width];
  for (let i = 0; i < 20; i++) {
    const u = (low + high) / 2;
    const [x, y] = straight.toPage(u, v);
    if (x / zoom < xAt(line, y / zoom)) low = u;
    else high = u;
  }
  return (low + high) / 2;
}

/** The bar lines of staff `k`, columns and kinds; null when no system of the truth has this staff. */
export function linesOn(
  straight: Straight,
  k: number,
  systems: readonly MovedSystem[],
  zoom: number,
): { u: number; kind: BarLineKind }[] | null {
  const [x, y] = straight
    .toPage(straight.width / 2, straight.tops[k]! + 2 * straight.unit)
    .map((p) => p / zoom);
  const system = systems.find(({ left, right }) => {
    const share = (x! - left.top[0]) / (right.top[0] - left.top[0]);
    const at = (a: Point, b: Point) => a[1] + (b[1] - a[1]) * share;
    const [top, bottom] = [at(left.top, right.top), at(left.bottom, right.bottom)];
    return share > 0 && share < 1 && y! > top && y! < bottom;
  });
  return system?.lines.map((line) => ({ u: columnOf(straight, k, line, zoom), kind: line.kind })) ?? null;
}
