import type { Ink, InkLine } from '../types.ts';

/** A line along an axis of the page: `at` across it, `from`–`to` along it, in page points. */
export interface Straight {
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly thickness: number;
}

export interface Straights {
  readonly across: readonly Straight[];
  readonly upright: readonly Straight[];
}

/** A line may lean this much and still lie along an axis. */
const LEAN = 0.01;
/** Ends this close, in points, are joined: the pieces of a staff line that is drawn bar by bar. */
const JOIN = 0.6;
/** Lines whose middles lie this close, in points, may be pieces of one. */
const SAME = 0.25;

const isLine = (ink: Ink): ink is InkLine => ink.kind === 'line';

/** All lines along the axes, with their pieces joined. */
export function straights(ink: readonly Ink[]): Straights {
  const across: Straight[] = [];
  const upright: Straight[] = [];
  for (const line of ink.filter(isLine)) {
    const dx = Math.abs(line.x1 - line.x0);
    const dy = Math.abs(line.y1 - line.y0);
    const { thickness } = line;
    if (dx > 0 && dy <= dx * LEAN)
      across.push({
        at: (line.y0 + line.y1) / 2,
        from: Math.min(line.x0, line.x1),
        to: Math.max(line.x0, line.x1),
        thickness,
      });
    else if (dy > 0 && dx <= dy * LEAN)
      upright.push({
        at: (line.x0 + line.x1) / 2,
        from: Math.min(line.y0, line.y1),
        to: Math.max(line.y0, line.y1),
        thickness,
      });
  }
  return { across: joined(across), upright: joined(upright) };
}

/** Pieces of one line as one: same place across, ends that touch or overlap, thickness alike. */
export function joined(lines: readonly Straight[]): Straight[] {
  const sorted = [...lines].sort((a, b) => a.at - b.at || a.from - b.from);
  const done: Straight[] = [];
  for (let start = 0; start < sorted.length;) {
    let end = start + 1;
    while (end < sorted.length && sorted[end]!.at - sorted[end - 1]!.at <= SAME) end++;
    done.push(...joinedRow(sorted.slice(start, end)));
    start = end;
  }
  return done;
}

function joinedRow(row: readonly Straight[]): Straight[] {
  const open: Straight[] = [];
  const sorted = [...row].sort((a, b) => a.from - b.from);
  for (const line of sorted) {
    const i = open.findIndex(
      (other) =>
        line.from <= other.to + JOIN &&
        Math.abs(line.at - other.at) <= Math.max(SAME, 0.3 * Math.min(line.thickness, other.thickness)) &&
        isAlike(line, other),
    );
    if (i < 0) open.push(line);
    else {
      const other = open[i]!;
      const longer = line.to - line.from > other.to - other.from ? line : other;
      open[i] = {
        ...longer,
        from: other.from,
        to: Math.max(other.to, line.to),
        thickness: Math.max(line.thickness, other.thickness),
      };
    }
  }
  return open;
}

const isAlike = (a: Straight, b: Straight) =>
  Math.max(a.thickness, b.thickness) <= 2.5 * Math.max(0.15, Math.min(a.thickness, b.thickness));
