import type { Lane } from './lanes.ts';
import type { Picture } from './picture.ts';
import { leanOf, straighten } from './straight.ts';
import { uprightCover } from './uprights.ts';

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
export function groupsOf(page: Picture, lanes: readonly Lane[]): Group[] {
  const groups: Lane[][] = [];
  const height = (lane: Lane) => lane.centre[Math.round((lane.x0 + lane.x1) / 2)]!;
  for (const lane of [...lanes].sort((a, b) => height(a) - height(b))) {
    const group = groups.findLast((one) => areJoined(page, one.at(-1)!, lane));
    if (group) group.push(lane);
    else groups.push([lane]);
  }
  return groups;
}

function areJoined(page: Picture, upper: Lane, lower: Lane): boolean {
  const common = Math.min(upper.x1, lower.x1) - Math.max(upper.x0, lower.x0);
  if (common < 0.5 * Math.min(upper.x1 - upper.x0, lower.x1 - lower.x0)) return false;
  const x = Math.round((Math.max(upper.x0, lower.x0) + Math.min(upper.x1, lower.x1)) / 2);
  const space = (upper.space + lower.space) / 2;
  const gap = (lower.centre[x]! - upper.centre[x]!) / space - 4;
  if (gap < 0.5 || gap > FARTHEST) return false;
  const margins = { above: 0, below: 0, beside: 1.5 };
  const first = straighten(page, [upper, lower], COARSE, margins, -upper.slope);
  const more = leanOf(first);
  const pair = more === 0 ? first : straighten(page, [upper, lower], COARSE, margins, more - upper.slope);
  const cover = uprightCover(pair, pair.tops[0]!, pair.tops[1]! + 4 * COARSE);
  const through = [...cover.keys()].filter((u) => cover[u]! >= JOINED);
  // Staves are joined where they start, or at every bar line; one stroke elsewhere is two stems that meet.
  const start = Math.max(...pair.ends.map(({ x0 }) => x0));
  const isAtStart = through.some((u) => Math.abs(u - start) <= AT_START * COARSE);
  return isAtStart || (through.length > 0 && through.at(-1)! - through[0]! > APART * COARSE);
}
