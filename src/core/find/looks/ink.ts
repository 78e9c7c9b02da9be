/** Looks of the uprights of an engraved system. Lengths in page points until they are traits. */
import type { Straight } from '../engraved/straight.ts';
import type { InkLine, PointBox, StaffParts } from '../types.ts';
import type { Upright } from './seen.ts';
import { BESIDE, FOLLOWED, type Traits } from './traits.ts';

/** Pieces of one stroke: this near across, this far apart along it, in spaces. */
const ALIGNED = 0.08;
const GAP = 1.05;
/** Shorter ones are no candidates, in spaces. */
const SHORTEST = 1.8;
/** A head is so near to its stem at the side, and to its end; in spaces. */
const TOUCH = 0.12;
const AT_END = 0.75;
/** Ends of partners lie this near to each other, in spaces. */
const LEVEL = 0.4;

interface Stroke extends Straight {
  /** Length of its ink. */
  readonly ink: number;
}

/**
 * Uprights at a system's staves, left to right.
 * @param heads of the notes at it
 * @param lines upright lines as painted, for their colour
 */
export function uprightsInInk(
  staves: readonly StaffParts[],
  upright: readonly Straight[],
  heads: readonly PointBox[],
  lines: readonly InkLine[],
): Upright[] {
  const { space, x0, x1 } = staves[0]!;
  const top = staves[0]!.lines[0]!;
  const bottom = staves.at(-1)!.lines.at(-1)!;
  const near = upright.filter(
    ({ at, from, to, thickness }) =>
      at > x0 - space &&
      at < x1 + space &&
      from < bottom &&
      to > top &&
      thickness < 1.2 * space &&
      to - from < bottom - top + 2 * FOLLOWED * space,
  );
  const strokes = wholeStrokes(near, space).filter(({ from, to }) => to - from >= SHORTEST * space);
  const isColoured = lines.some(({ light }) => light > 0);
  return strokes.map((stroke) => {
    const beside = besideOf(stroke, strokes, space);
    const traits: Traits = {
      over: clip((top - stroke.from) / space, FOLLOWED),
      under: clip((stroke.to - bottom) / space, FOLLOWED),
      thick: stroke.thickness / space,
      cover: stroke.ink / (stroke.to - stroke.from),
      ...touchesOf(stroke, heads, space),
      besideLeft: beside[0],
      besideRight: beside[1],
      dark: isColoured ? 1 - lightOf(stroke, lines) : 1,
    };
    return { x: stroke.at, traits };
  });
}

const clip = (value: number, most: number) => Math.min(most, Math.max(-most, value));

/** Pieces that lie over each other as one stroke, left to right: a dashed line is many. */
function wholeStrokes(pieces: readonly Straight[], space: number): Stroke[] {
  const sorted = [...pieces].sort((a, b) => a.at - b.at);
  const columns: Straight[][] = [];
  for (const [i, piece] of sorted.entries())
    if (i > 0 && piece.at - sorted[i - 1]!.at <= ALIGNED * space) columns.at(-1)!.push(piece);
    else columns.push([piece]);
  return columns.flatMap((column) => strokesIn(column, space));
}

/** The strokes of pieces that nearly stand over each other. */
function strokesIn(column: readonly Straight[], space: number): Stroke[] {
  const done: Stroke[] = [];
  for (const piece of [...column].sort((a, b) => a.from - b.from)) {
    const { at, from, to, thickness } = piece;
    const ink = to - from;
    const i = done.findIndex(
      (other) =>
        Math.abs(other.at - at) <= ALIGNED * space &&
        from - other.to <= GAP * space &&
        // A shape that is filled and stroked is painted twice, in two thicknesses.
        (from < other.to ||
          Math.abs(other.thickness - thickness) <= 0.5 * Math.max(other.thickness, thickness)),
    );
    if (i < 0) done.push({ at, from, to, thickness, ink });
    else {
      const before = done[i]!;
      const overlap = Math.max(0, before.to - from);
      done[i] = {
        at: before.at,
        from: before.from,
        to: Math.max(before.to, to),
        thickness: Math.max(before.thickness, thickness),
        ink: before.ink + Math.max(0, ink - overlap),
      };
    }
  }
  return done.sort((a, b) => a.at - b.at);
}

type Touches = Pick<Traits, 'leftUpper' | 'leftLower' | 'rightUpper' | 'rightLower'>;

function touchesOf({ at, from, to, thickness }: Stroke, heads: readonly PointBox[], space: number): Touches {
  const found = { leftUpper: 0, leftLower: 0, rightUpper: 0, rightLower: 0 };
  const half = thickness / 2;
  for (const [x0, y0, x1, y1] of heads) {
    const isLeft = (x0 + x1) / 2 < at;
    const gap = (isLeft ? at - half - x1 : x0 - at - half) / space;
    const y = (y0 + y1) / 2;
    const isUpper = y < (from + to) / 2;
    if (gap > TOUCH || Math.abs(y - (isUpper ? from : to)) > AT_END * space) continue;
    found[isLeft ? (isUpper ? 'leftUpper' : 'leftLower') : isUpper ? 'rightUpper' : 'rightLower'] = 1;
  }
  return found;
}

/** Distance to the next stroke from height to height at either side, in spaces; BESIDE when none is near. */
function besideOf(stroke: Stroke, all: readonly Stroke[], space: number): [left: number, right: number] {
  const next: [number, number] = [BESIDE, BESIDE];
  for (const other of all) {
    const gap = Math.abs(other.at - stroke.at) / space;
    if (other === stroke || gap >= BESIDE) continue;
    const off = Math.max(Math.abs(stroke.from - other.from), Math.abs(stroke.to - other.to));
    if (off > LEVEL * space) continue;
    const side = other.at < stroke.at ? 0 : 1;
    next[side] = Math.min(next[side], gap);
  }
  return next;
}

function lightOf({ at, from, to }: Stroke, lines: readonly InkLine[]): number {
  const middle = (from + to) / 2;
  const line = lines.find(
    ({ x0, y0, y1 }) => Math.abs(x0 - at) < 0.4 && Math.min(y0, y1) <= middle && Math.max(y0, y1) >= middle,
  );
  return line?.light ?? 0;
}
