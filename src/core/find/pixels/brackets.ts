import type { BarStroke, Bracket } from '../types.ts';
import { digitIn } from './digits.ts';
import type { Straight } from './straight.ts';
import { INK } from './uprights.ts';

/** A bracket lies so far above the top line, in spaces. */
const LOWEST = 1;
const HIGHEST = 10;
/** Least length, thickest line and deepest bend of it, in spaces: a slur bends more. */
const LENGTH = 3;
const THICK = 0.4;
const BEND = 0.3;
/** Its ends lie this close to a bar line, in spaces; where it is cut by the end of the staff, any place will do. */
const NEAR = 1.2;
/** A hook goes down at an end so far, in spaces. */
const HOOK = 0.8;
/** White so far above and below a line, in spaces: words and boxes have none. */
const CLEAR = 0.35;
/** Share of a line's columns that have white above and below. */
const CLEAN = 0.8;
/** Missing columns that do not part a line, in spaces. */
const GAP = 0.4;

/** Darkness of a line after its columns are smeared into each other over so many spaces: noise falls away. */
const LINE = 70;
const SMEAR = 0.6;

interface Level {
  x0: number;
  x1: number;
  y: number;
}

/** Ending brackets above a system, left to right. */
export function bracketsOf(straight: Straight, strokes: readonly BarStroke[]): Bracket[] {
  const { unit, tops, ends } = straight;
  const top = tops[0]!;
  const { x0: start, x1: end } = ends[0]!;
  const edges = [start, ...strokes.flatMap(({ x0, x1 }) => [x0, x1]), end];
  const isAtEdge = (x: number) => edges.some((edge) => Math.abs(edge - x) <= NEAR * unit);
  // After a clef at the start of a line the bracket begins where the music does.
  const isAtStart = (x: number) =>
    isAtEdge(x) || (x > start && x < start + 14 * unit && x < (strokes[0]?.x0 ?? end));
  const found: Bracket[] = [];
  for (const { x0, x1, y } of levelsOf(
    straight,
    Math.round(top - HIGHEST * unit),
    Math.round(top - LOWEST * unit),
  )) {
    const hookLeft = hookAt(straight, x0, y);
    const hookRight = hookAt(straight, x1, y);
    if (!hookLeft && !hookRight && !(x0 < start + 14 * unit && x1 > end - NEAR * unit)) continue;
    if (!isAtStart(x0) || !isAtEdge(x1)) continue;
    const numbers = hookLeft ? digitIn(straight, x0, y, x1) : [];
    // Numbers of scans are often misread (tests/corpus/scans/README.md): a bar under a bracket is shown for correction.
    const sure = (hookLeft ? 0.85 : 0.75) * (numbers.length > 0 ? 1 : 0.9);
    found.push({ x0, x1, y, hookLeft, hookRight, numbers, sure });
  }
  return counted(
    found.sort((a, b) => a.x0 - b.x0),
    unit,
  );
}

/** A bracket whose number was not read, or read as that of its neighbour, follows the one before it. */
function counted(brackets: readonly Bracket[], unit: number): Bracket[] {
  let last: Bracket | null = null;
  return brackets.map((bracket) => {
    const before = last !== null && bracket.x0 - last.x1 < 2.5 * unit ? last.numbers.at(-1) : undefined;
    last = bracket;
    if (before === undefined || !bracket.hookLeft || bracket.numbers[0] === before + 1) return bracket;
    last = { ...bracket, numbers: [before + 1], sure: 0.8 };
    return last;
  });
}

/** The rows above one, each column the mean of those around it. */
function smeared({ width, data, unit }: Straight, rows: number): Uint8Array {
  const half = Math.round((SMEAR * unit) / 2);
  const out = new Uint8Array(rows * width);
  for (let v = 0; v < rows; v++) {
    let sum = 0;
    for (let u = -half; u < width; u++) {
      sum += data[v * width + u + half] ?? 0;
      if (u + half >= width) sum -= data[v * width + u + half] ?? 0;
      if (u - half - 1 >= 0) sum -= data[v * width + u - half - 1]!;
      if (u >= 0) out[v * width + u] = sum / (2 * half + 1);
    }
  }
  return out;
}

/** Long level lines between two rows. */
function levelsOf(straight: Straight, from: number, to: number): Level[] {
  const { width, unit } = straight;
  const data = smeared(straight, to + unit);
  const found: Level[] = [];
  const thick = Math.max(1, Math.round(THICK * unit));
  const clear = Math.round(CLEAR * unit);
  const used = new Uint8Array(straight.width * (to - from + 1));
  // Middle of the thin run of ink at a column near a row; −1 where there is none.
  const thinAt = (u: number, v: number): number => {
    for (const off of [0, -1, 1]) {
      let upper = v + off;
      if (upper < 1 || data[upper * width + u]! <= LINE) continue;
      let lower = upper;
      while (upper > 0 && lower - upper <= thick && data[(upper - 1) * width + u]! > LINE) upper--;
      while (lower - upper <= thick && data[(lower + 1) * width + u]! > LINE) lower++;
      return (upper + lower) / 2;
    }
    return -1;
  };
  for (let v = Math.max(from, 1); v <= to; v++)
    for (let u = 0; u < width; u++) {
      if (used[(v - from) * width + u] || data[v * width + u]! <= LINE) continue;
      let [y, last, columns, clean] = [v, u, 0, 0];
      const heights: number[] = [];
      for (let x = u; x < width && x - last <= GAP * unit; x++) {
        const middle = thinAt(x, Math.round(y));
        if (middle < 0) continue;
        y += 0.3 * (middle - y);
        last = x;
        columns++;
        heights.push(y);
        const i = Math.round(y) * width + x;
        if ((data[i - clear * width] ?? 0) <= LINE && data[i + clear * width]! <= LINE) clean++;
        const row = Math.round(y) - from;
        for (let r = Math.max(0, row - 1); r <= Math.min(to - from, row + 1); r++) used[r * width + x] = 1;
      }
      if (last - u < LENGTH * unit || columns < 0.85 * (last - u) || clean < CLEAN * columns) continue;
      // The first height may be the corner of a hook.
      const steady = heights.slice(2, -2);
      if (Math.max(...steady) - Math.min(...steady) > BEND * unit) continue;
      found.push({ x0: u, x1: last + 1, y: heights[heights.length >> 1]! });
    }
  return found.filter((one) => !found.some((other) => other !== one && covers(other, one, unit)));
}

const covers = (a: Level, b: Level, unit: number) =>
  a.x1 - a.x0 > b.x1 - b.x0 && a.x0 <= b.x0 + unit && a.x1 >= b.x1 - unit && Math.abs(a.y - b.y) < unit;

/** An upright goes down at the end of a level line. */
function hookAt({ width, data, unit }: Straight, x: number, y: number): boolean {
  const reach = Math.round(0.25 * unit);
  for (let u = Math.max(1, Math.round(x) - reach); u <= Math.min(width - 2, Math.round(x) + reach); u++) {
    let dark = 0;
    const [from, to] = [Math.round(y + 0.2 * unit), Math.round(y + HOOK * unit)];
    for (let v = from; v <= to; v++) if (data[v * width + u]! > INK || data[v * width + u + 1]! > INK) dark++;
    if (dark >= 0.9 * (to - from + 1)) return true;
  }
  return false;
}
