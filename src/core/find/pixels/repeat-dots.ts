import type { BarLineKind } from '../types.ts';
import type { Straight } from './straight.ts';

/** Dots of a repeat stand so far from the middle of its bar line, in spaces. */
const NEAR = 0.4;
const FAR = 1.15;
/** The middle of a dot that is looked at: half of its side, in spaces; and how far it may lie from where it should. */
const HALF = 0.13;
const ASTRAY = 0.13;
/** So far over and under its middle, and towards the bar line, it is lighter. A stem may stand at its other side. */
const OVER = 0.3;
const TOWARDS = 0.38;
/** A dot is at least so dark, 0–255; the empty spaces are at most this share of that, what is beside it this one. */
const DARK = 90;
const LIGHT = 0.45;
const FAINT = 0.75;
/** The middles of the two dots, and of the spaces that are empty over and under them, from the top line in spaces. */
const DOTS = [1.5, 2.5];
const EMPTY = [0.5, 3.5];

/** Bar lines that may be a repeat's whose dots the net has overlooked. */
const MAY_REPEAT: ReadonlySet<BarLineKind> = new Set(['double', 'final']);

/** A repeat that the net is less sure of has dots that are seen: the heads of a short rest look alike. */
const SURE = 0.65;

/** The kind of a bar line once the dots beside its strokes are looked for; `sure` is the net's chance of the kind. */
export function withDots(straight: Straight, x: number, kind: BarLineKind, sure = 1): BarLineKind {
  if (sure < SURE && kind === 'repeat-end' && !hasDots(straight, x, -1)) return 'final';
  if (!MAY_REPEAT.has(kind)) return kind;
  const [before, after] = [hasDots(straight, x, -1), hasDots(straight, x, 1)];
  if (before) return after ? 'repeat-both' : 'repeat-end';
  return after ? 'repeat-start' : kind;
}

/** Two dots over each other in the middle spaces of every staff, and nothing else near, at a side of a bar line. */
function hasDots(straight: Straight, x: number, side: number): boolean {
  const { unit } = straight;
  for (let away = NEAR * unit; away <= FAR * unit; away++)
    if (straight.tops.every((top) => areDots(straight, x + side * away, top, side))) return true;
  return false;
}

function areDots(straight: Straight, x: number, top: number, side: number): boolean {
  const { unit } = straight;
  const dark = (u: number, space: number, half = HALF) => meanAt(straight, u, top + space * unit, half);
  const middles = DOTS.map((space) =>
    [-ASTRAY, 0, ASTRAY].map((off) => space + off).reduce((a, b) => (dark(x, b) > dark(x, a) ? b : a)),
  );
  const least = Math.min(...middles.map((space) => dark(x, space)));
  if (least < DARK) return false;
  const empty = EMPTY.map((space) => dark(x, space));
  const beside = middles.flatMap((space) => [
    dark(x, space - OVER, 0),
    dark(x, space + OVER, 0),
    dark(x - side * TOWARDS * unit, space, 0),
  ]);
  return Math.max(...empty) < LIGHT * least && Math.max(...beside) < FAINT * least;
}

/** How dark it is on average around a place; `half` of the side in spaces. */
function meanAt({ width, data, unit }: Straight, x: number, y: number, half: number): number {
  const reach = Math.round(half * unit);
  let sum = 0;
  for (let v = Math.round(y) - reach; v <= Math.round(y) + reach; v++)
    for (let u = Math.round(x) - reach; u <= Math.round(x) + reach; u++) sum += data[v * width + u] ?? 0;
  return sum / (2 * reach + 1) ** 2;
}
