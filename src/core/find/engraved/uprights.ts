import type { BarStroke, StaffParts, Thing } from '../types.ts';
import { THICK } from '../bars/boundaries.ts';
import type { Straight } from './straight.ts';
import { bottomOf, topOf } from './systems.ts';
import { staffAt } from '../bars/bars.ts';

/** Ends of a bar line lie this close to the outer staff lines, in spaces. */
const MEETS = 0.22;
/** An end this far beyond may still be one, but it is not sure. */
const NEARLY = 0.4;
/** Edges of strokes of several staves lie this close, in spaces, when they are one bar line. */
const SAME = 0.3;

/** How sure a bar line is that a note is drawn on. */
const RUN_OVER = 0.8;

interface Candidate {
  readonly line: Straight;
  readonly staff: number;
  readonly sure: number;
}

/**
 * Uprights of a system that may be bar lines, left to right. `things` stand near it: an upright with a head at
 * its side, near an end, is a stem unless it spans several staves.
 */
export function strokesOf(
  staves: readonly StaffParts[],
  upright: readonly Straight[],
  things: readonly Thing[],
): BarStroke[] {
  const blobs = things.filter(({ kind }) => kind === 'head');
  const candidates = staves.flatMap((staff, i) =>
    upright.flatMap((line): Candidate[] => {
      const sure = fits(line, staff, staves, blobs, upright);
      return sure > 0 ? [{ line, staff: i, sure }] : [];
    }),
  );
  const { space } = staves[0]!;
  const groups: Candidate[][] = [];
  for (const candidate of [...candidates].sort((a, b) => a.line.at - b.line.at)) {
    const group = groups.at(-1);
    if (
      group &&
      candidate.line.at - group[0]!.line.at <= SAME * space &&
      isAlike(group[0]!.line, candidate.line) &&
      !group.some((other) => standsApart(other, candidate))
    )
      group.push(candidate);
    else groups.push([candidate]);
  }
  const whole = groups.flatMap((group) => strokeOf(group, staves.length));
  const rest = groups.filter((group) => strokeOf(group, staves.length).length === 0).flat();
  return [...whole, ...apartOf(rest, whole, staves, things)].sort((a, b) => a.x0 - b.x0);
}

const isAlike = (a: Straight, b: Straight) =>
  Math.abs(a.thickness - b.thickness) <= 0.5 * Math.max(a.thickness, b.thickness);

const leftOf = ({ line }: Candidate) => line.at - line.thickness / 2;
const rightOf = ({ line }: Candidate) => line.at + line.thickness / 2;

/** There is white between two lines of one staff: a narrow double line, not one that is drawn in pieces. */
const standsApart = (a: Candidate, b: Candidate) => a.staff === b.staff && leftOf(b) > rightOf(a);

/** A bar line goes through all staves, or at least through most of them. */
function strokeOf(group: readonly Candidate[], count: number): BarStroke[] {
  const staves = new Set(group.map(({ staff }) => staff)).size;
  if (staves * 2 <= count && count > 1) return [];
  const x0 = Math.min(...group.map(leftOf));
  const x1 = Math.max(...group.map(rightOf));
  const best = Math.max(...group.map(({ sure }) => sure));
  return [{ x0, x1, sure: staves === count ? best : best * 0.9 }];
}

/** A thick stroke is so many times as wide as the thin ones beside it, or as a staff line where there are none. */
const TIMES_THIN = 1.8;
const TIMES_STAFF_LINE = 2.6;
/** Thin and thick strokes differ by at least this much, in spaces. */
const THICKER = 0.1;

/** Width from which on a stroke is thick: lines of small staves are thick for their spaces, the thin ones too. */
export function thickFrom(
  strokes: readonly BarStroke[],
  { x0: start, space, thickness }: StaffParts,
): number {
  // What stands at the very start joins the staves and is no bar line.
  const widths = strokes.filter(({ x0 }) => x0 > start + 0.5 * space).map(({ x0, x1 }) => x1 - x0);
  const [thin, widest] = [Math.min(...widths), Math.max(...widths)];
  return widest > TIMES_THIN * thin && widest - thin > THICKER * space
    ? Math.sqrt(TIMES_THIN) * thin
    : Math.max(THICK * space, TIMES_STAFF_LINE * thickness);
}

/** Bar lines that stand elsewhere on each staff: equally many on all of them, or only some on all of them. */
const APART = 0.85;
const UNEQUAL = 0.6;
/** A stroke this close, in spaces, to one that goes through all staves belongs to it. */
const BESIDE = 1.2;

/**
 * Bar lines of staves that were not aligned: between two that go through all staves, every staff has lines of its
 * own. The uppermost staff says where the bars are. What only one staff has is none, unless it makes a line double.
 */
function apartOf(
  rest: readonly Candidate[],
  whole: readonly BarStroke[],
  staves: readonly StaffParts[],
  things: readonly Thing[],
): BarStroke[] {
  const near = BESIDE * staves[0]!.space;
  const strokes = (list: readonly Candidate[], sure: number) =>
    list.map((one): BarStroke => ({ x0: leftOf(one), x1: rightOf(one), sure }));
  const isBeside = ({ line }: Candidate) =>
    whole.some(({ x0, x1 }) => line.at > x0 - near && line.at < x1 + near);
  const upper = rest.filter((one) => one.staff === 0 && isBeside(one));
  const alone = rest.filter((one) => !isBeside(one));
  const edges = [-Infinity, ...whole.map(({ x0 }) => x0).sort((a, b) => a - b), Infinity];
  const apart = edges.slice(1).flatMap((to, i): BarStroke[] => {
    const here = alone.filter(({ line }) => line.at > edges[i]! && line.at < to);
    const own = staves.map((_, staff) => {
      const lines = clusters(
        here.filter((one) => one.staff === staff),
        near,
      );
      return lines.filter((one, k) => holds(one.at(-1)!, lines[k + 1]?.[0]!.line.at ?? to, staves, things));
    });
    const counts = own.map(({ length }) => length);
    if (counts.includes(0)) return [];
    if (counts.some((count) => count !== counts[0])) return strokes(own[0]!.flat(), UNEQUAL);
    return own[0]!.flatMap((lines, k) => {
      const places = own.map((on) => (leftOf(on[k]![0]!) + rightOf(on[k]!.at(-1)!)) / 2);
      return strokes(lines, APART).map((stroke) => ({ ...stroke, own: places }));
    });
  });
  return [...strokes(upper, APART), ...apart];
}

/** Lines of one staff that are one double line or repeat. */
function clusters(lines: readonly Candidate[], near: number): Candidate[][] {
  const found: Candidate[][] = [];
  for (const one of [...lines].sort((a, b) => a.line.at - b.line.at)) {
    const last = found.at(-1);
    if (last && one.line.at - last.at(-1)!.line.at <= near) last.push(one);
    else found.push([one]);
  }
  return found;
}

/** Something stands on the line's staff from the line to `end`, the next one: otherwise it ends no bar of its own. */
function holds(
  { line, staff }: Candidate,
  end: number,
  staves: readonly StaffParts[],
  things: readonly Thing[],
): boolean {
  if (end === Infinity) return true;
  return things.some((thing) => {
    const [x, y] = [(thing.x0 + thing.x1) / 2, (thing.y0 + thing.y1) / 2];
    return x > line.at && x < end && staffAt(staves, y) === staff;
  });
}

/** How sure an upright is a bar line of this staff; 0 when it is none. */
function fits(
  line: Straight,
  staff: StaffParts,
  staves: readonly StaffParts[],
  blobs: readonly Thing[],
  upright: readonly Straight[],
): number {
  const { space } = staff;
  if (line.at < staff.x0 - space || line.at > staff.x1 + space) return 0;
  if (line.thickness > 1.2 * space) return 0;
  const top = topOf(staff) - line.from;
  const bottom = line.to - bottomOf(staff);
  // It reaches another staff of the system: nothing but a bar line does.
  if (-top <= MEETS * space && -bottom <= MEETS * space) {
    const spans = staves.some(
      (other) =>
        other !== staff &&
        line.from <= topOf(other) + MEETS * other.space &&
        line.to >= bottomOf(other) - MEETS * other.space,
    );
    if (spans) return 1;
  }
  const off = Math.max(
    outside(top, line, staff, staves, upright),
    outside(bottom, line, staff, staves, upright),
  );
  if (off > NEARLY * space) return 0;
  const beside = blobs.filter((blob) => isBeside(blob, line, space));
  if (beside.length === 0) return off <= MEETS * space ? 0.995 : 0.8;
  // Where a bar has no room for its notes they are drawn on its bar line.
  const isEnd = Math.abs(line.at - staff.x1) <= SAME * space;
  const isRunOver =
    isEnd || beside.every((blob) => upright.some((other) => isStemOf(other, blob, line, staff)));
  return isRunOver && off <= MEETS * space ? RUN_OVER : 0;
}

/**
 * How far an end lies off its staff line. Going on to a neighbouring staff is no fault, nor going on towards one
 * that has a line at the same place: words may interrupt a bar line between staves.
 */
function outside(
  end: number,
  line: Straight,
  staff: StaffParts,
  staves: readonly StaffParts[],
  upright: readonly Straight[],
): number {
  if (staves.length === 1 || end <= 0) return Math.abs(end);
  const near = 0.3 * staff.space;
  const goesOn = staves.some((other) => {
    if (other === staff) return false;
    const edge = line.to <= bottomOf(staff) + near ? line.from - bottomOf(other) : line.to - topOf(other);
    // It reaches just to the next staff, which has its own line elsewhere.
    if (Math.abs(edge) <= MEETS * staff.space) return true;
    const isBetween = line.from >= bottomOf(other) - near || line.to <= topOf(other) + near;
    const partners = upright.filter(({ at }) => Math.abs(at - line.at) <= near);
    return (
      isBetween &&
      partners.some(({ from, to }) => from <= topOf(other) + near && to >= bottomOf(other) - near)
    );
  });
  return goesOn ? 0 : end;
}

/** A head has another stem than this line, one that is no bar line itself. */
function isStemOf(other: Straight, head: Thing, line: Straight, staff: StaffParts): boolean {
  const { space } = staff;
  const off = Math.max(Math.abs(topOf(staff) - other.from), Math.abs(bottomOf(staff) - other.to));
  const isOther = Math.abs(other.at - line.at) > SAME * space && off > NEARLY * space;
  return isOther && other.to - other.from > 2 * space && isBeside(head, other, space);
}

/** A head whose side touches the upright near one of its ends. */
function isBeside(blob: Thing, line: Straight, space: number): boolean {
  const near = 0.2 * space + line.thickness / 2;
  const touches = Math.abs(blob.x0 - line.at) <= near || Math.abs(blob.x1 - line.at) <= near;
  if (!touches) return false;
  const y = (blob.y0 + blob.y1) / 2;
  return Math.min(Math.abs(y - line.from), Math.abs(y - line.to)) <= 0.75 * space;
}
