import type { StaffParts } from '../types.ts';
import type { Straight } from './straight.ts';

/** How far, in spaces, a vertical may stand outside a staff's ends and still join it. */
const OUTSIDE = 2.5;

export const topOf = (staff: StaffParts) => staff.lines[0]!;
export const bottomOf = (staff: StaffParts) => staff.lines.at(-1)!;

/**
 * Staves that a vertical connects are one system; others stand alone, however close. In reading order:
 * side by side systems left to right where they share a height.
 */
export function systemsOf(staves: readonly StaffParts[], upright: readonly Straight[]): StaffParts[][] {
  const group = staves.map((_, i) => i);
  const root = (i: number): number => (group[i] === i ? i : root(group[i]!));
  for (const line of upright) {
    let first = -1;
    for (let i = 0; i < staves.length; i++) {
      if (!meets(line, staves[i]!)) continue;
      if (first < 0) first = i;
      else group[root(i)] = root(first);
    }
  }
  const systems = new Map<number, StaffParts[]>();
  staves.forEach((staff, i) => systems.set(root(i), [...(systems.get(root(i)) ?? []), staff]));
  return readingOrder([...systems.values()]);
}

/** It runs from above the staff's third line or so to its bottom, or the reverse: through most of it. */
function meets(line: Straight, staff: StaffParts): boolean {
  const { space } = staff;
  if (line.at < staff.x0 - OUTSIDE * space || line.at > staff.x1 + space) return false;
  // A bracket of staves reaches just to the line of a staff that has one.
  const slack = (staff.lines.length < 5 ? 1.1 : 0.35) * space;
  return line.from <= topOf(staff) + slack && line.to >= bottomOf(staff) - slack;
}

function readingOrder(systems: StaffParts[][]): StaffParts[][] {
  const columns = columnsOf(systems);
  return columns === null ? byRows(systems) : columns.flatMap(byRows);
}

/**
 * Two pages on one: every system lies wholly at one side of a gutter, at least two at each. A coda that stands
 * beside the end of a line is none: other lines go over its gap. Null: no columns.
 */
function columnsOf(systems: readonly StaffParts[][]): [StaffParts[][], StaffParts[][]] | null {
  const sorted = [...systems].sort((a, b) => a[0]!.x0 - b[0]!.x0);
  let end = -Infinity;
  for (const [i, system] of sorted.entries()) {
    if (i >= 2 && sorted.length - i >= 2 && system[0]!.x0 > end) return [sorted.slice(0, i), sorted.slice(i)];
    end = Math.max(end, ...system.map(({ x1 }) => x1));
  }
  return null;
}

function byRows(systems: StaffParts[][]): StaffParts[][] {
  const sorted = systems.sort((a, b) => topOf(a[0]!) - topOf(b[0]!));
  const rows: StaffParts[][][] = [];
  for (const system of sorted) {
    const row = rows.at(-1);
    const shares =
      row?.some((other) => topOf(system[0]!) < bottomOf(other.at(-1)!) && isBeside(system[0]!, other[0]!)) ??
      false;
    if (shares) row!.push(system);
    else rows.push([system]);
  }
  return rows.flatMap((row) => row.sort((a, b) => a[0]!.x0 - b[0]!.x0));
}

const isBeside = (a: StaffParts, b: StaffParts) => a.x0 >= b.x1 - a.space || b.x0 >= a.x1 - a.space;
