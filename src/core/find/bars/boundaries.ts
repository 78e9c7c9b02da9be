import type { BarLineKind, BarStroke, Dot, StaffParts, SystemParts, Thing } from '../types.ts';

/** A place where one bar ends and the next begins. */
export interface Boundary {
  /** Where bar boxes meet: the middle of its strokes. */
  readonly x: number;
  /** Edges of its strokes. */
  readonly x0: number;
  readonly x1: number;
  /** Edges with the dots. */
  readonly left: number;
  readonly right: number;
  readonly kind: BarLineKind;
  /** Its place on each staff, where that is not the same on all. */
  readonly own?: readonly number[];
  readonly sure: number;
}

/** Strokes closer than this, in spaces, are one boundary. */
const TOGETHER = 1.2;
/** From here on, in spaces, a stroke is thick. A usual thin one is a sixth, a thick one a half. */
export const THICK = 0.32;
/** How far repeat dots stand from the strokes, in spaces. */
const DOTS_NEAR = 0.1;
const DOTS_FAR = 1.7;

/** Boundaries of a system, left to right. A lone stroke at the very start of the staves is none. */
export function boundariesOf(parts: SystemParts): Boundary[] {
  const staff = parts.staves[0]!;
  const { space } = staff;
  const groups: BarStroke[][] = [];
  for (const stroke of [...parts.strokes].sort((a, b) => a.x0 - b.x0)) {
    const last = groups.at(-1);
    if (last && stroke.x0 - Math.max(...last.map(({ x1 }) => x1)) <= TOGETHER * space) last.push(stroke);
    else groups.push([stroke]);
  }
  const boundaries = groups.map((group) => boundaryOf(group, parts));
  return boundaries.filter(({ x0, kind }) => x0 - staff.x0 > 0.7 * space || kind.startsWith('repeat'));
}

function boundaryOf(strokes: readonly BarStroke[], parts: SystemParts): Boundary {
  const { space } = parts.staves[0]!;
  const x0 = Math.min(...strokes.map((stroke) => stroke.x0));
  const x1 = Math.max(...strokes.map((stroke) => stroke.x1));
  const thickFrom = parts.thickFrom ?? THICK * space;
  // Dots at a thin stroke may be those of the last notes; a repeat has a thick one, too.
  const isThin = strokes.length === 1 && x1 - x0 <= thickFrom;
  const dots = isThin ? parts.dots.filter((dot) => !isBehindHead(dot, parts.things, space)) : parts.dots;
  const pairs = parts.staves.flatMap((staff) => pairsBeside(dots, staff, x0, x1));
  const before = pairs.filter((pair) => pair < x0);
  const after = pairs.filter((pair) => pair > x1);
  const own = strokes.find((stroke) => stroke.own !== undefined)?.own;
  return {
    x: (x0 + x1) / 2,
    x0,
    x1,
    ...(own && { own }),
    left: Math.min(x0, ...before.map((x) => x - 0.3 * space)),
    right: Math.max(x1, ...after.map((x) => x + 0.3 * space)),
    kind: kindOf(strokes, thickFrom, before.length > 0, after.length > 0),
    sure: Math.max(...strokes.map(({ sure }) => sure)),
  };
}

/** A note's dot stands so close behind its head, and at most so far over or under its middle; in spaces. */
const BEHIND = 1.5;
const OFF = 0.6;

const isBehindHead = ({ x, y }: Dot, things: readonly Thing[], space: number) =>
  things.some(
    ({ kind, x1, y0, y1 }) =>
      kind === 'head' && x > x1 && x - x1 <= BEHIND * space && Math.abs((y0 + y1) / 2 - y) <= OFF * space,
  );

/** Middles of pairs of dots in the second and third space, beside a boundary. */
function pairsBeside(dots: readonly Dot[], staff: StaffParts, x0: number, x1: number): number[] {
  const { space, lines } = staff;
  const middle = (lines[0]! + lines.at(-1)!) / 2;
  const near = dots.filter(({ x }) => {
    const gap = x < x0 ? x0 - x : x - x1;
    return gap >= DOTS_NEAR * space && gap <= DOTS_FAR * space;
  });
  const isIn = (dot: Dot, side: number) => Math.abs(dot.y - middle - side * 0.5 * space) <= 0.3 * space;
  return near
    .filter((dot) => isIn(dot, -1))
    .filter((upper) => near.some((dot) => isIn(dot, 1) && Math.abs(dot.x - upper.x) <= 0.25 * space))
    .map(({ x }) => x);
}

function kindOf(
  strokes: readonly BarStroke[],
  thickFrom: number,
  dotsBefore: boolean,
  dotsAfter: boolean,
): BarLineKind {
  if (dotsBefore && dotsAfter) return 'repeat-both';
  if (dotsBefore) return 'repeat-end';
  if (dotsAfter) return 'repeat-start';
  const thick = strokes.filter(({ x0, x1 }) => x1 - x0 > thickFrom).length;
  if (thick > 0) return 'final';
  return strokes.length > 1 ? 'double' : 'single';
}
