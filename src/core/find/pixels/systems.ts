import { kernels, lent } from '../kernels/kernels.ts';
import type { Darkness } from './darkness.ts';
import type { Lane } from './lanes.ts';
import { MOST_LEAN, straighten } from './straight.ts';
import { FAINT, uprightCover } from './uprights.ts';

/** Staves further apart than this, in spaces, are never joined. */
const FARTHEST = 16;
/** Share of the way between two staves, and through them, that a vertical which joins them covers. */
const JOINED = 0.93;
/** A coarse look is enough: pixels for a space. */
const COARSE = 8;

/** Lanes of one system, top to bottom. */
export type Group = readonly Lane[];

/** The line that joins staves stands at most so far from where they start, in spaces. */
const AT_START = 1.5;
/** Strokes are two when they are so far apart, in spaces. */
const APART = 2;

/** Staves that a vertical joins are one system; others stand alone. */
export function groupsOf(page: Darkness, lanes: readonly Lane[]): Group[] {
  const groups: Lane[][] = [];
  const height = (lane: Lane) => lane.centre[Math.round((lane.x0 + lane.x1) / 2)]!;
  for (const lane of [...lanes].sort((a, b) => height(a) - height(b))) {
    const group = groups.findLast((one) => areJoined(page, one.at(-1)!, lane));
    if (group) group.push(lane);
    else groups.push([lane]);
  }
  return groups;
}

function areJoined(page: Darkness, upper: Lane, lower: Lane): boolean {
  const common = Math.min(upper.x1, lower.x1) - Math.max(upper.x0, lower.x0);
  if (common < 0.5 * Math.min(upper.x1 - upper.x0, lower.x1 - lower.x0)) return false;
  const x = Math.round((Math.max(upper.x0, lower.x0) + Math.min(upper.x1, lower.x1)) / 2);
  const space = (upper.space + lower.space) / 2;
  const gap = (lower.centre[x]! - upper.centre[x]!) / space - 4;
  if (gap < 0.5 || gap > FARTHEST) return false;
  if (!mayBeJoined(page, upper, lower, gap)) return false;
  const margins = { above: 0, below: 0, beside: 1.5 };
  const pair = straighten(page, [upper, lower], COARSE, margins, -upper.slope);
  const cover = uprightCover(pair, pair.tops[0]!, pair.tops[1]! + 4 * COARSE);
  const through = [...cover.keys()].filter((u) => cover[u]! >= JOINED);
  // Staves are joined where they start, or at every bar line; one stroke elsewhere is two stems that meet.
  const start = Math.max(...pair.ends.map(({ x0 }) => x0));
  const isAtStart = through.some((u) => Math.abs(u - start) <= AT_START * COARSE);
  return isAtStart || (through.length > 0 && through.at(-1)! - through[0]! > APART * COARSE);
}

/** So many columns are looked at together. */
const TOGETHER = 16;

/**
 * False where in any place more rows between two staves are free of ink than a vertical that joins them may miss:
 * most staves are told apart so, without pulling them straight.
 */
function mayBeJoined(page: Darkness, upper: Lane, lower: Lane, gap: number): boolean {
  const space = (upper.space + lower.space) / 2;
  const between = Math.round(gap * COARSE);
  const rows = 2 * 4 * COARSE + between + 1;
  const free = (1 - JOINED) * rows + 1;
  const step = space / COARSE;
  // A column leans, and those beside it count for it.
  const beside = (Math.abs(upper.slope) + MOST_LEAN) * (rows / 2) * step + 2 * step + 2;
  const away = Math.ceil(beside / TOGETHER);
  const from = Math.max(0, Math.floor(Math.min(upper.x0, lower.x0) - 2 * space));
  const to = Math.min(page.width, Math.ceil(Math.max(upper.x1, lower.x1) + 2 * space));
  const ink = inkBetween(page, upper, lower, from, to, between);
  const places = ink.length / between;
  for (let place = 0; place < places; place++) {
    const [first, last] = [Math.max(0, place - away), Math.min(places - 1, place + away)];
    let count = 0;
    for (let row = 1; row < between; row++) {
      let some = 0;
      for (let near = first; near <= last; near++) some |= ink[near * between + row]!;
      if (some === 0) count++;
    }
    if (count <= free) return true;
  }
  return false;
}

/**
 * Which of so many rows between two staves have ink, in places of `TOGETHER` columns from one to before another: 1 or 0,
 * row after row for each place.
 */
function inkBetween(
  { width, height, ink }: Darkness,
  upper: Lane,
  lower: Lane,
  from: number,
  to: number,
  rows: number,
): Uint8Array {
  const size = Math.ceil((to - from) / TOGETHER) * rows;
  const { at, bytes, floats } = lent(4 * width, 4 * width, size);
  const [aboveAt, belowAt, found] = at;
  floats.set(
    upper.centre.map((y, x) => y + 2 * upper.spaces[x]!),
    aboveAt / 4,
  );
  floats.set(
    lower.centre.map((y, x) => y - 2 * lower.spaces[x]!),
    belowAt / 4,
  );
  bytes.fill(0, found, found + size);
  // prettier-ignore
  kernels().inkBetween(
    ink, width, height, from, to, TOGETHER, aboveAt, belowAt, rows, FAINT, found,
  );
  return bytes.slice(found, found + size);
}
