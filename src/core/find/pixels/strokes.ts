import { columnDarkness, FAINT, INK, spaceRows, uprightCover } from './uprights.ts';
import type { Straight } from './straight.ts';

/** An upright stroke from the top line to the bottom line of one staff. */
export interface Upright {
  /** Edges, columns. */
  readonly x0: number;
  readonly x1: number;
  /** Share of the way from line to line that is ink. */
  readonly cover: number;
  /** How far it goes on beyond the top and the bottom line, in spaces. */
  readonly over: number;
  readonly under: number;
  /** Darkness of its fainter end, just inside the outer lines, as a share of its whole. */
  readonly ends: number;
  /** Of the nine places beside it, on and between the lines, how many hold ink that touches it: left, right. */
  readonly touched: readonly [left: number, right: number];
}

/** Ink from line to line: at least so much of the way. */
const COVER = 0.82;
/** Widest stroke, in spaces. */
const WIDEST = 1;
/** A dip of darkness this deep, 0–255, parts two strokes. */
const DIP = 28;
/** A stroke is so much darker than what stands around it, 0–255. */
const STANDS_OUT = 35;
/** Share of a stroke's darkness at which it ends. */
const SHADE = 0.45;
/** Darkness of a place, as a share of the stroke's, that may be chance, and from which all of it counts. */
const GRAZED = 0.22;
const HELD = 0.55;
/** The place of another stroke that holds least has this share of the one that holds most. */
const EVEN = 0.6;
/** Nothing is followed further beyond the staff, in spaces. */
const FOLLOWED = 3;

/** Upright strokes through staff `k`, left to right: bar lines, and stems that are as long. */
export function uprightsOf(straight: Straight, k: number): Upright[] {
  const { unit, tops } = straight;
  const top = tops[k]!;
  const cover = uprightCover(straight, top, top + 4 * unit);
  const dark = columnDarkness(straight, spaceRows(top, unit));
  const found: Upright[] = [];
  for (let u = 1; u < cover.length; u++) {
    if (cover[u]! < COVER) continue;
    const from = u;
    while (u < cover.length && cover[u]! >= COVER) u++;
    if (u - from > 2.2 * WIDEST * unit) continue;
    for (const [a, b] of parted(dark, from, u)) {
      const stroke = strokeIn(straight, k, dark, a, b);
      if (stroke) found.push(stroke);
    }
  }
  return found;
}

/** Cuts a run of dark columns where it dips: two thin strokes, or a thin and a thick one. */
function parted(dark: Float32Array, from: number, to: number): [number, number][] {
  const cuts: number[] = [];
  let high = 0;
  let low = 255;
  let lowAt = from;
  let risen = false;
  for (let u = from; u < to; u++) {
    const value = dark[u]!;
    if (value > high && low === 255) high = value;
    if (high - value > DIP && value < low) [low, lowAt] = [value, u];
    risen = low < 255 && value - low > DIP;
    if (risen) {
      cuts.push(lowAt);
      [high, low] = [value, 255];
    }
  }
  const edges = [from, ...cuts, to];
  return edges.slice(1).map((end, i) => [edges[i]!, end]);
}

function strokeIn(
  straight: Straight,
  k: number,
  dark: Float32Array,
  from: number,
  to: number,
): Upright | null {
  const { unit } = straight;
  let sum = 0;
  let moment = 0;
  for (let u = from; u < to; u++) {
    const value = dark[u]!;
    sum += value;
    moment += value * (u + 0.5);
  }
  if (sum === 0) return null;
  const top = straight.tops[k]!;
  const bottom = top + 4 * unit;
  const whole = Math.max(...dark.subarray(from, to));
  const reach = Math.round(0.6 * unit);
  const around = Math.min(...dark.subarray(Math.max(0, from - reach), Math.min(dark.length, to + reach)));
  if (whole - around < STANDS_OUT) return null;
  // Ink laid side by side: how wide the stroke is whatever the blur. What a noisy paper adds is none of it.
  const width = Math.max(1, (sum - around * (to - from)) / (255 - around));
  if (width > WIDEST * unit) return null;
  const x = moment / sum;
  const [x0, x1] = [x - width / 2, x + width / 2];
  // Half as dark as the stroke is still the stroke, however soft or pale it is.
  const ink = Math.max(FAINT, Math.min(INK + 10, SHADE * whole));
  const cover = coverAt(straight, x, top, ink);
  if (cover < COVER) return null;
  return {
    x0,
    x1,
    cover,
    ends: endsOf(straight, x, top, whole),
    over: beyond(straight, x, top, -1, ink),
    under: beyond(straight, x, bottom, 1, ink),
    touched: touchedIn(straight, top, [x0, x1], paperAt(dark, from, to, unit), whole),
  };
}

/** Usual darkness of the columns around a stroke: what noise leaves on the paper, not the lightest of it. */
function paperAt(dark: Float32Array, from: number, to: number, unit: number): number {
  const reach = Math.round(unit);
  const left = dark.subarray(Math.max(0, from - reach), from);
  const right = dark.subarray(to, Math.min(dark.length, to + reach));
  const columns = [...left, ...right].sort((a, b) => a - b);
  return columns[Math.floor(0.35 * columns.length)] ?? 0;
}

/** Share of the rows between the outer lines in which a stroke around a column is ink. */
function coverAt({ width, data, unit }: Straight, x: number, top: number, ink: number): number {
  const u = Math.round(x - 0.5);
  let rows = 0;
  for (let v = top; v <= top + 4 * unit; v++) {
    const i = v * width + u;
    if (data[i]! > ink || data[i - 1]! > ink || data[i + 1]! > ink) rows++;
  }
  return rows / (4 * unit + 1);
}

/** Darkness just inside the outer lines, of the fainter of the two, as a share of `whole`. */
function endsOf({ width, data, unit }: Straight, x: number, top: number, whole: number): number {
  const inside = [
    [0.14, 0.42],
    [3.58, 3.86],
  ].map(([a, b]) => {
    const [from, to] = [Math.round(top + a! * unit), Math.round(top + b! * unit)];
    // A stroke that leans a little ends one column aside.
    return Math.max(
      ...[-1, 0, 1].map((aside) => {
        let sum = 0;
        for (let v = from; v <= to; v++) sum += data[v * width + Math.round(x - 0.5) + aside]!;
        return sum / (to - from + 1);
      }),
    );
  });
  return Math.min(...inside) / whole;
}

/** How far ink goes on from a line, in spaces. */
function beyond(
  { width, height, data, unit }: Straight,
  x: number,
  line: number,
  way: 1 | -1,
  ink: number,
): number {
  const start = Math.round(0.22 * unit);
  const u = Math.round(x - 0.5);
  let far = start;
  for (; far < FOLLOWED * unit; far++) {
    const v = line + way * far;
    if (v < 0 || v >= height) break;
    const i = v * width + u;
    if (data[i]! <= ink && data[i - 1]! <= ink && data[i + 1]! <= ink) break;
  }
  return far === start ? 0 : far / unit;
}

/**
 * Of the eighteen places beside a stroke, on and between the lines at either side, those that hold ink. A side
 * that holds the same from top to bottom is another stroke.
 */
function touchedIn(
  straight: Straight,
  top: number,
  [x0, x1]: readonly [number, number],
  paper: number,
  full: number,
): [left: number, right: number] {
  const touched: [number, number] = [0, 0];
  for (const side of [-1, 1] as const) {
    const edge = side < 0 ? Math.floor(x0) - 2 : Math.ceil(x1) + 1;
    const shares = Array.from({ length: 9 }, (_, k) => {
      const dark = darkBeside(straight, top, (k * straight.unit) / 2, edge, side);
      return Math.max(0, dark - paper) / (full - paper);
    });
    const least = Math.min(...shares);
    if (least > GRAZED && least > EVEN * Math.max(...shares)) continue;
    for (const share of shares)
      touched[side < 0 ? 0 : 1] += Math.min(1, Math.max(0, (share - GRAZED) / (HELD - GRAZED)));
  }
  return touched;
}

/** Mean darkness of a place beside a stroke, around a height of the staff; the staff lines say nothing. */
function darkBeside(
  { width, data, unit }: Straight,
  top: number,
  middle: number,
  edge: number,
  side: 1 | -1,
): number {
  const [half, line] = [0.3 * unit, 0.17 * unit];
  let sum = 0;
  let all = 0;
  for (let v = Math.max(0, Math.ceil(middle - half)); v <= Math.min(4 * unit, middle + half); v++) {
    if (Math.abs(v - Math.round(v / unit) * unit) < line) continue;
    for (let n = 0; n < 0.3 * unit; n++, all++) {
      const u = edge + side * n;
      if (u >= 0 && u < width) sum += data[(top + v) * width + u]!;
    }
  }
  return sum / all;
}
