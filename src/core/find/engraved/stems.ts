/** Stems, flags and beams by the heads that they hang on: which way they go says nothing of the music. */
import { staffAt } from '../bars/bars.ts';
import type { PointBox, StaffParts } from '../types.ts';
import type { Straight } from './straight.ts';
import type { Sign } from './things.ts';
import { middleX, middleY } from './written.ts';

/**
 * All in spaces: a stem stands so near to its head's side, and goes so far past its middle; a beam or flag ends so
 * near to its stem.
 */
const SIDE = 0.3;
const PAST = 0.8;
const AT = 0.35;
/** Heads of a second stand at both sides of their stem, so far apart in height. */
const SECOND = 0.6;
/** An end of a beam leans less than this. */
const UPRIGHT = 0.15;
/** Heads of two voices that sound together stand so close; the next note's is further off by its own width. */
const TOGETHER = 1.1;

export interface Stem {
  /** Where it is drawn, from its upper to its lower end. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
  /** Around the middles of its heads: where it counts. */
  readonly box: PointBox;
}

/** A head, its sides and its middle. */
interface Placed {
  readonly x0: number;
  readonly x1: number;
  readonly x: number;
  readonly y: number;
}

/** A head whose side a line touches. */
const touches = ({ x0, x1, y }: Placed, { at, from, to }: Straight, space: number): boolean =>
  y > from - PAST * space &&
  y < to + PAST * space &&
  (Math.abs(x0 - at) < SIDE * space || Math.abs(x1 - at) < SIDE * space);

/** Those of a bar's uprights that are stems of these heads. */
export function stemsOf(uprights: readonly Straight[], heads: readonly Sign[], space: number): Stem[] {
  const placed = heads.map((head): Placed => {
    const [x0, , x1] = head.ink.box;
    return { x0, x1, x: middleX(head), y: middleY(head) };
  });
  return uprights.flatMap((line) => {
    const beside = placed.filter((head) => touches(head, line, space));
    return beside.length === 0 ? [] : [stemOf(line, beside, space, uprights)];
  });
}

/** A line as the stem of heads that it touches, some of which may be another's. */
function stemOf(
  { at, from, to }: Straight,
  beside: readonly Placed[],
  space: number,
  uprights: readonly Straight[],
): Stem {
  // It ends at one of its heads; those at its other side are the next note's, if they are no second.
  const off = ({ y }: Placed) => Math.min(Math.abs(y - from), Math.abs(y - to));
  const first = beside.reduce((a, b) => (off(b) < off(a) ? b : a));
  const isElsewhere = (head: Placed) =>
    uprights.some((other) => Math.abs(other.at - at) > AT * space && touches(head, other, space));
  const own = beside.filter(
    (head) =>
      head.x < at === first.x < at || (Math.abs(head.y - first.y) < SECOND * space && !isElsewhere(head)),
  );
  const ys = own.map(({ y }) => y);
  const x = Math.min(...own.map((head) => head.x));
  return { at, from, to, box: [x, Math.min(...ys), x, Math.max(...ys)] };
}

/** Where two voices stand on one staff, the way of a stem tells which voice a note belongs to. */
export function hasVoices(stems: readonly Stem[], staves: readonly StaffParts[], staff: number): boolean {
  const xs = stems
    .filter(({ box }) => staffAt(staves, (box[1] + box[3]) / 2) === staff)
    .map(({ box }) => box[0])
    .sort((a, b) => a - b);
  return xs.some((x, i) => x - (xs[i - 1] ?? -Infinity) < TOGETHER * staves[staff]!.space);
}

/** The stem that a beam or flag ends at; undefined when there is none. Notes of two staves stand over each other. */
export function stemAt(box: PointBox, stems: readonly Stem[], space: number): Stem | undefined {
  const y = (box[1] + box[3]) / 2;
  const off = ({ from, to }: Stem) => Math.max(from - y, y - to, 0);
  const nearest = (x: number) =>
    stems
      .filter(({ at }) => Math.abs(at - x) < AT * space)
      .reduce<Stem | undefined>((a, b) => (a === undefined || off(b) < off(a) ? b : a), undefined);
  return nearest(box[0]) ?? nearest(box[2]);
}

/** The length that a flag says, whichever way it hangs; empty when it is no flag. */
export function flagOf(name: string): string {
  const length = /^flag(\d+)/.exec(name)?.[1] ?? /^flags\.[ud](\d)/.exec(name)?.[1];
  return length === undefined ? '' : `flag ${length}`;
}

/** A slanted bar: four-sided, its ends upright. */
export function isBeam({ ink, name }: Pick<Sign, 'ink' | 'name'>, space: number): boolean {
  if (ink.kind !== 'shape' || !ink.filled || name !== '' || ink.rings.length !== 1) return false;
  const [x0, , x1] = ink.box;
  const points = ink.rings[0]!;
  const isEnd = (x: number) => Math.min(x - x0, x1 - x) < UPRIGHT * space;
  return (
    points.length >= 8 &&
    points.length <= 10 &&
    x1 - x0 > 0.6 * space &&
    points.every((x, i) => i % 2 === 1 || isEnd(x))
  );
}

/** A short level beam looks like a rest, but it ends at two stems. */
export function isLevelBeam({ ink: { box }, kind }: Sign, stems: readonly Stem[], space: number): boolean {
  const endsAt = (x: number) => stems.some(({ at }) => Math.abs(at - x) < AT * space);
  return kind === 'rest' && endsAt(box[0]) && endsAt(box[2]);
}
