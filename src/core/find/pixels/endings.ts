import type { BarStroke, Bracket } from '../types.ts';
import { placeUnder, RIGHT, type WrittenPlace } from './above.ts';
import type { BracketLine, BracketLines } from './brackets.ts';
import { SIGNS, type Written } from './sign-shapes.ts';
import { digitIn } from './digits.ts';
import type { SeenSign } from './signs.ts';
import type { Straight } from './straight.ts';

/** A bracket's ends lie this close to a bar line, in spaces; cut by the end of the staff, anywhere. */
const NEAR = 1.2;
/** After a clef at the start of a line it begins within so many spaces. */
const HEAD = 14;
/** The line of a bracket lies so far above the middle of its number, in spaces. */
const ABOVE = [0.3, 2.6] as const;
/** It lies at least so far above the staff, in spaces: staff lines and beams do not. */
const LOWEST = 1.5;
/** A number stands behind its bar line, in spaces: from so far before to so far behind. */
const BEFORE = 1.5;
const BEHIND = 4;
/** Share of a bar that the line runs over when the bar is the bracket's. */
const COVERED = 0.6;
/** Share of the first few spaces behind its number that a bracket's line covers at least. */
const BEGINS = 0.75;
/** Numbers that a bracket may have, as the net knows them. */
export const NUMBERS = [[1], [2], [3], [1, 2]] as const;
const ANSWERS = NUMBERS.map((numbers) => SIGNS.indexOf(`ending ${numbers.join()}` as Written));

/** No number is less likely than this. */
const BLIND = 0.001;
/** A digit read by its shape makes its number likelier by so much. */
const RULE = 8;
/** How sure a bracket is whose number was not seen. */
const UNSEEN = 0.7;

/** A bracket before its number is settled, with the odds of each of `NUMBERS`. */
export interface Unread extends Bracket {
  readonly odds: readonly number[];
}

/** Where the numbers of the lines that begin with a hook stand. */
export const cornersOf = ({ lines }: BracketLines, unit: number): WrittenPlace[] =>
  lines.filter(({ hookLeft }) => hookLeft).map((line) => placeUnder(line, unit));

/**
 * Ending brackets above a system, left to right, their numbers not settled yet: those whose numbers the net has read,
 * and lines that go on from the line before or have a number that nobody can read.
 */
export function bracketsOf(
  straight: Straight,
  strokes: readonly BarStroke[],
  found: BracketLines,
  signs: readonly SeenSign[],
): Unread[] {
  const { unit, ends } = straight;
  const { x0: start, x1: end } = ends[0]!;
  const edges = [start, ...middlesOf(strokes, unit), end];
  const numbers = signs.filter(({ kind }) => kind === 'ending');
  const read = numbers
    .flatMap((sign, i) => bracketOf(straight, sign, edges, found, numbers[i + 1]) ?? [])
    .filter((one, _, all) => all.every((other) => other.x0 !== one.x0 || other.sure <= one.sure));
  const others = found.lines
    .filter((line) => isBracket(line, edges, unit))
    .filter(({ x0, x1 }) => !read.some((one) => Math.min(x1, one.x1) - Math.max(x0, one.x0) > unit))
    .map((line): Unread => ({ ...line, numbers: [], sure: UNSEEN, odds: NUMBERS.map(() => 1) }));
  return [...read, ...others].sort((a, b) => a.x0 - b.x0);
}

/** The middles of bar lines: strokes that stand close are one. */
function middlesOf(strokes: readonly BarStroke[], unit: number): number[] {
  const groups: BarStroke[][] = [];
  for (const stroke of [...strokes].sort((a, b) => a.x0 - b.x0))
    if (stroke.x0 - (groups.at(-1)?.at(-1)?.x1 ?? -Infinity) < NEAR * unit) groups.at(-1)!.push(stroke);
    else groups.push([stroke]);
  return groups.map((group) => (group[0]!.x0 + group.at(-1)!.x1) / 2);
}

/** The bracket of a number: it begins at the bar line before it, and goes on as far as its line does. */
function bracketOf(
  straight: Straight,
  sign: SeenSign,
  edges: readonly number[],
  { cover }: BracketLines,
  next: SeenSign | undefined,
): Unread | null {
  const { unit } = straight;
  const first = edges.findLastIndex((edge) => sign.x0 > edge - BEFORE * unit);
  const to = edges[first + 1];
  if (to === undefined || sign.x0 > edges[first]! + (first === 0 ? HEAD : BEHIND) * unit) return null;
  const middle = (sign.y0 + sign.y1) / 2;
  // The row at which a line behind the number covers most.
  let [y, most] = [0, 0];
  const lowest = Math.min(middle - ABOVE[0] * unit, straight.tops[0]! - LOWEST * unit);
  for (let v = Math.round(middle - ABOVE[1] * unit); v <= lowest; v++) {
    const share = cover(sign.x0, Math.min(to, sign.x0 + 5 * unit), v);
    if (share > most) [y, most] = [v, share];
  }
  if (most < BEGINS || cover(Math.max(edges[first]! + unit, sign.x0), to, y) < COVERED) return null;
  let last = first + 1;
  while (
    last + 1 < edges.length &&
    (next === undefined || next.x0 > edges[last + 1]! - BEFORE * unit) &&
    cover(edges[last]! + unit, edges[last + 1]!, y) >= COVERED
  )
    last++;
  const rule = digitIn(straight, sign.x0 - RIGHT * unit, y, edges[last]!).join();
  return {
    x0: edges[first]!,
    x1: edges[last]!,
    y,
    hookLeft: true,
    hookRight: false,
    numbers: [],
    sure: sign.sure,
    odds: ANSWERS.map(
      (answer, k) => (sign.chances[answer]! + BLIND) * (rule === NUMBERS[k]!.join() ? RULE : 1),
    ),
  };
}

/** A line that is a bracket's by its shape: hooks at its ends, or over the whole line of music. */
function isBracket({ x0, x1, hookLeft }: BracketLine, edges: readonly number[], unit: number) {
  const [start, end] = [edges[0]!, edges.at(-1)!];
  const isAtEdge = (x: number) => edges.some((edge) => Math.abs(edge - x) <= NEAR * unit);
  const isAtHead = x0 > start && x0 < start + HEAD * unit && x0 < (edges[1] ?? end);
  // One that goes on from the line before has no hook at its left: whether one was open there only the chart tells.
  const goesOn = isAtHead || Math.abs(x0 - start) <= NEAR * unit;
  return (goesOn || (hookLeft && isAtEdge(x0))) && isAtEdge(x1);
}
