import type { Straight } from './straight.ts';
import { INK } from './uprights.ts';

/** A digit stands so far right of the hook and below the line, in spaces. */
const RIGHT = 3;
const BELOW = 2.6;
/** Least and largest height of one, in spaces. */
const LOW = 0.6;
const HIGH = 2.4;

/** The numbers under a bracket: the first digit right of its hook, and a second after a stop or comma. */
export function digitIn(straight: Straight, x0: number, y: number, x1: number): number[] {
  const { unit } = straight;
  const boxes = boxesIn(
    straight,
    Math.round(x0 + 0.3 * unit),
    Math.round(Math.min(x1, x0 + (RIGHT + 2) * unit)),
    Math.round(y + 0.25 * unit),
    Math.round(y + BELOW * unit),
  );
  const digits = boxes
    .map((box) => topOf(straight, box))
    .filter(({ y0, y1 }) => y1 - y0 >= LOW * unit && y1 - y0 <= HIGH * unit);
  const first = digits[0];
  if (first === undefined || first.x0 > x0 + RIGHT * unit) return [];
  const one = digitOf(straight, first);
  const next = digits[1];
  if (one === null) return [];
  const isNext = next !== undefined && next.x0 - first.x1 < 1.3 * unit && similar(first, next);
  const two = isNext ? digitOf(straight, next) : null;
  return two !== null && two > one ? [one, two] : [one];
}

interface Box {
  x0: number;
  x1: number;
  y0: number;
  y1: number;
}

const similar = (a: Box, b: Box) =>
  Math.abs(b.y1 - b.y0 - (a.y1 - a.y0)) < 0.2 * (a.y1 - a.y0) && Math.abs(a.y0 - b.y0) < 0.2 * (a.y1 - a.y0);

/** Boxes of ink that white columns part, left to right. */
function boxesIn({ width, data }: Straight, u0: number, u1: number, v0: number, v1: number): Box[] {
  const boxes: Box[] = [];
  let open: Box | null = null;
  for (let u = Math.max(0, u0); u < Math.min(width, u1); u++) {
    let [y0, y1] = [-1, -1];
    for (let v = v0; v <= v1; v++)
      if (data[v * width + u]! > INK) {
        if (y0 < 0) y0 = v;
        y1 = v + 1;
      }
    if (y0 < 0) {
      open = null;
      continue;
    }
    if (open === null) boxes.push((open = { x0: u, x1: u + 1, y0, y1 }));
    else {
      open.x1 = u + 1;
      open.y0 = Math.min(open.y0, y0);
      open.y1 = Math.max(open.y1, y1);
    }
  }
  return boxes;
}

/** The box down to its first white row: a chord symbol may stand right below the digit. */
function topOf({ width, data }: Straight, box: Box): Box {
  for (let v = box.y0; v < box.y1; v++)
    if (data.subarray(v * width + box.x0, v * width + box.x1).every((dark) => dark <= INK))
      return { ...box, y1: v };
  return box;
}

/**
 * 1, 2 or 3 by shape: a 1 is narrow, or has most of its ink in one upright; a 2 is open to the right in its lower
 * half and stands on a level foot; a 3 has its ink at the right in both halves. Null for anything else.
 */
function digitOf({ width, data }: Straight, { x0, x1, y0, y1 }: Box): number | null {
  const [wide, high] = [x1 - x0, y1 - y0];
  if (wide > 1.3 * high) return null;
  const share = (a: number, b: number, c: number, d: number) => {
    let sum = 0;
    let all = 0;
    for (let v = Math.floor(y0 + c * high); v < y0 + d * high; v++)
      for (let u = Math.floor(x0 + a * wide); u < x0 + b * wide; u++, all++)
        sum += data[v * width + u]! > INK ? 1 : 0;
    return sum / (all || 1);
  };
  if (wide < 0.45 * high) return 1;
  // Ink of a 1 from top to bottom stands in one column; 2 and 3 have none that is filled.
  let fullest = 0;
  for (let u = x0; u < x1; u++) {
    let ink = 0;
    for (let v = y0; v < y1; v++) if (data[v * width + u]! > INK) ink++;
    fullest = Math.max(fullest, ink / high);
  }
  if (fullest > 0.9) return 1;
  const lowerLeft = share(0, 0.4, 0.58, 0.82);
  const lowerRight = share(0.6, 1, 0.55, 0.8);
  if (lowerRight > lowerLeft + 0.15) return 3;
  return 2;
}
