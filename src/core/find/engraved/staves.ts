import { median } from '../../median.ts';
import type { StaffParts } from '../types.ts';
import type { Straight } from './straight.ts';

/** Gaps of one staff differ by less than this share. */
const EVEN = 0.06;
/** Distance of two staff lines in points: smaller is a hatching, larger a table. */
const LEAST_SPACE = 1.2;
const MOST_SPACE = 24;
/** A staff is at least this many spaces long: shorter lines are ledger lines and the like. */
const SHORTEST = 6;
/** A staff line is at most this share of a space thick. */
const THICKEST = 0.35;

/** Staves of five lines, top to bottom: equal gaps, equal ends. */
export function stavesIn(across: readonly Straight[]): StaffParts[] {
  const long = across
    .filter((line) => line.to - line.from >= SHORTEST * LEAST_SPACE)
    .sort((a, b) => a.at - b.at);
  const used = new Set<Straight>();
  const staves: StaffParts[] = [];
  for (const [i, top] of long.entries()) {
    if (used.has(top)) continue;
    for (let j = i + 1; j < long.length && long[j]!.at - top.at <= MOST_SPACE; j++) {
      const second = long[j]!;
      const space = second.at - top.at;
      if (space < LEAST_SPACE || used.has(second) || !endsMeet(top, second, space)) continue;
      const lines = ladder(long, top, second, j);
      // Six and more are a table, a ruled sheet or a tablature: none of them starts a staff.
      if (lines !== null && lines.length > 5) lines.forEach((line) => used.add(line));
      if (lines?.length !== 5) continue;
      lines.forEach((line) => used.add(line));
      staves.push(staffOf(lines));
      break;
    }
  }
  return staves
    .filter((staff) => !staves.some((other) => isOssiaOf(staff, other)))
    .sort((a, b) => a.lines[0]! - b.lines[0]! || a.x0 - b.x0);
}

/** An ossia is smaller and shorter than its staff, and stands this close over or under it, in that staff's spaces. */
const SMALLER = 0.9;
const SHORTER = 0.95;
const OSSIA_NEAR = 12;

/** A staff that says how a few bars of another may be played instead: its bars are no bars of the tune. */
function isOssiaOf(staff: StaffParts, main: StaffParts): boolean {
  const gap = Math.max(staff.lines[0]! - main.lines.at(-1)!, main.lines[0]! - staff.lines.at(-1)!);
  return (
    staff.space < SMALLER * main.space &&
    staff.x1 - staff.x0 < SHORTER * (main.x1 - main.x0) &&
    staff.x0 > main.x0 - main.space &&
    staff.x1 < main.x1 + main.space &&
    gap > 0 &&
    gap < OSSIA_NEAR * main.space
  );
}

const endsMeet = (a: Straight, b: Straight, space: number) =>
  Math.abs(a.from - b.from) <= space && Math.abs(a.to - b.to) <= space;

/**
 * Lines that go on below `top` and `second` in even steps. Null when they are too
 * short or too thick for a staff.
 */
function ladder(long: readonly Straight[], top: Straight, second: Straight, from: number): Straight[] | null {
  const space = second.at - top.at;
  const length = top.to - top.from;
  if (length < SHORTEST * space) return null;
  if (Math.max(top.thickness, second.thickness) > THICKEST * space) return null;
  const lines = [top, second];
  for (let k = from + 1; k < long.length && lines.length < 40; k++) {
    const line = long[k]!;
    const step = (line.at - top.at) / lines.length;
    const isNext = Math.abs(step - space) <= EVEN * space && endsMeet(top, line, space);
    if (isNext) lines.push(line);
    else if (line.at - lines.at(-1)!.at > space * (1 + EVEN)) break;
  }
  return lines;
}

function staffOf(lines: readonly Straight[]): StaffParts {
  const ys = lines.map((line) => line.at);
  return {
    x0: median(lines.map((line) => line.from)),
    x1: median(lines.map((line) => line.to)),
    lines: ys,
    space: (ys.at(-1)! - ys[0]!) / (ys.length - 1),
    thickness: median(lines.map((line) => line.thickness)),
  };
}
