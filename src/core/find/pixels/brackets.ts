import { kernels, lent, VECTOR } from '../kernels/kernels.ts';
import type { Straight } from './straight.ts';

/** A bracket lies so far above the top line, in spaces. */
const LOWEST = 1;
const HIGHEST = 10;
/** Least length, thickest line and deepest bend of it, in spaces: a slur bends more. */
const LENGTH = 3;
const THICK = 0.4;
const BEND = 0.3;
/** A hook goes down at an end so far, in spaces. */
const HOOK = 0.8;
/** White so far above and below a line, in spaces: words and boxes have none. */
const CLEAR = 0.35;
/** Missing columns that do not part a line, in spaces. */
const GAP = 0.4;

/** A line is so much darker than what is close above and below, once its columns are smeared over so many spaces. */
const LINE = 22;
const SMEAR = 1.2;
/** A hook is so much darker than what stands at the lighter of its sides. */
const UPRIGHT = 35;
const SIDE = 0.4;

interface Level {
  x0: number;
  x1: number;
  y: number;
}

/** A line over the staff that may be a bracket's; rows and columns of the straightened picture. */
export interface BracketLine extends Level {
  readonly hookLeft: boolean;
  readonly hookRight: boolean;
}

/** Level lines above a system, and how dark a level line is anywhere there. */
export interface BracketLines {
  readonly lines: readonly BracketLine[];
  /** The share of columns from `x0` to `x1` that a thin line covers which passes through a row at `x0`. */
  readonly cover: (x0: number, x1: number, y: number) => number;
}

export function bracketLinesOf(noisy: Straight): BracketLines {
  const { unit, tops } = noisy;
  const top = tops[0]!;
  const straight = softened(noisy, top);
  const [from, to] = [Math.round(top - HIGHEST * unit), Math.round(top - LOWEST * unit)];
  const lines = levelsOf(straight, from, to).map((level) => ({
    ...level,
    hookLeft: hookAt(straight, level.x0, level.y),
    hookRight: hookAt(straight, level.x1, level.y),
  }));
  return { lines, cover: (x0, x1, y) => coverOf(straight, x0, x1, y) };
}

/** A row is so much darker than what is close above and below where a thin line runs along it. */
const THIN = 14;
/** A line moves at most so far from where it is looked for, in spaces. */
const ASTRAY = 0.25;

function coverOf({ width, data, unit }: Straight, x0: number, x1: number, y: number): number {
  const far = Math.round(CLEAR * unit) * width;
  const reach = Math.round(ASTRAY * unit);
  let [row, covered] = [y, 0];
  for (let u = Math.round(x0); u < x1; u++) {
    let [most, at] = [0, row];
    for (let v = Math.round(row) - reach; v <= row + reach; v++) {
      const i = v * width + u;
      const dark = data[i]! - Math.max(data[i - far] ?? 0, data[i + far] ?? 0);
      if (dark > most) [most, at] = [dark, v];
    }
    if (most <= THIN) continue;
    covered++;
    row += 0.1 * (at - row);
  }
  return covered / Math.max(1, x1 - x0);
}

/** The rows above the staff, every pixel the mean of nine: noise falls away. */
function softened(straight: Straight, rows: number): Straight {
  const { width } = straight;
  const data = straight.data.subarray(0, (rows + 1) * width);
  const { at, bytes } = lent(data.length, data.length);
  const [from, out] = at;
  bytes.set(data, from);
  bytes.set(data, out);
  kernels().softened(from, width, rows, out);
  return { ...straight, height: rows + 1, data: bytes.slice(out, out + data.length) };
}

/**
 * What is level in the rows above one: smeared along the row, less the darker of what is above and below. It stands in
 * the kernels' memory, where it can be looked at by fours too, until more of that is lent.
 */
function ridges({ width, data, unit }: Straight, rows: number): { data: Uint8Array; fours: Int32Array } {
  const half = Math.round((SMEAR * unit) / 2);
  const far = Math.round(CLEAR * unit);
  const count = rows * width;
  const { at, bytes, words } = lent(count, count + 2 * far * width, count + 4 * half + VECTOR, count);
  const [from, smeared, found, out] = at;
  bytes.set(data.subarray(0, count), from);
  kernels().ridges(from, width, rows, half, far, LINE, smeared, found, out);
  return { data: bytes.subarray(out, out + count), fours: words.subarray(out / 4, (out + count) / 4) };
}

/** Rows at which the next column's ink is looked for. */
const NEXT = [0, -1, 1] as const;

/** Long level lines between two rows. */
function levelsOf(straight: Straight, from: number, to: number): Level[] {
  const { width, unit } = straight;
  const { data, fours } = ridges(straight, to + unit);
  const found: Level[] = [];
  const thick = Math.max(1, Math.round(THICK * unit));
  const used = new Uint8Array(straight.width * (to - from + 1));
  // Middle of the thin run of ink at a column near a row; −1 where there is none.
  const thinAt = (u: number, v: number): number => {
    for (let k = 0; k < 3; k++) {
      let upper = v + NEXT[k]!;
      if (upper < 1 || data[upper * width + u]! <= LINE) continue;
      let lower = upper;
      while (upper > 0 && lower - upper <= thick && data[(upper - 1) * width + u]! > LINE) upper--;
      while (lower - upper <= thick && data[(lower + 1) * width + u]! > LINE) lower++;
      return (upper + lower) / 2;
    }
    return -1;
  };
  for (let v = Math.max(from, 1); v <= to; v++)
    for (let u = 0, i = v * width; u < width; u++, i++) {
      // Most is paper.
      while ((i & 3) === 0 && u + 4 <= width && fours[i >> 2] === 0) {
        u += 4;
        i += 4;
      }
      if (u === width || data[i]! <= LINE || used[i - from * width]) continue;
      let y = v;
      let last = u;
      let columns = 0;
      const heights: number[] = [];
      for (let x = u; x < width && x - last <= GAP * unit; x++) {
        const middle = thinAt(x, Math.round(y));
        if (middle < 0) continue;
        y += 0.3 * (middle - y);
        last = x;
        columns++;
        heights.push(y);
        const row = Math.round(y) - from;
        for (let r = Math.max(0, row - 1); r <= Math.min(to - from, row + 1); r++) used[r * width + x] = 1;
      }
      if (last - u < LENGTH * unit || columns < 0.85 * (last - u)) continue;
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
  const [from, to] = [Math.round(y + 0.2 * unit), Math.round(y + HOOK * unit)];
  const dark = (u: number) => {
    let sum = 0;
    for (let v = from; v <= to; v++) sum += data[v * width + u] ?? 0;
    return sum / (to - from + 1);
  };
  const reach = Math.round((0.25 + SMEAR / 2) * unit);
  const side = Math.round(SIDE * unit);
  for (let u = Math.round(x) - reach; u <= Math.round(x) + reach; u++)
    if (dark(u) - Math.min(dark(u - side), dark(u + side)) >= UPRIGHT) return true;
  return false;
}
