import { kernels, lent, VECTOR } from '../kernels/kernels.ts';
import type { Darkness } from './darkness.ts';
import type { Lane } from './lanes.ts';
import type { Picture } from './picture.ts';

/**
 * One or more staves pulled straight: their lines level, their distance `unit` pixels, their bar lines upright.
 */
export interface Straight extends Picture {
  /** Pixels for a space. */
  readonly unit: number;
  /** Row of the top line of each staff. */
  readonly tops: readonly number[];
  /** Columns of the ends of each staff. */
  readonly ends: readonly { readonly x0: number; readonly x1: number }[];
  /** Place on the page of a place here, both in pixels: `v` counts from the middle of the first row. */
  readonly toPage: (u: number, v: number) => readonly [x: number, y: number];
}

export interface Margins {
  /** Spaces that are kept above, below and beside the staves. */
  readonly above: number;
  readonly below: number;
  readonly beside: number;
}

/**
 * Pulls staves straight and their bar lines upright.
 * @param lanes top to bottom
 * @param lean of bar lines as expected: pixels to the right for each pixel down
 */
export function straighten(
  page: Darkness,
  lanes: readonly Lane[],
  unit: number,
  margins: Margins,
  lean: number,
): Straight {
  const first = sheetOf(page, lanes, unit, margins, lean);
  const { straight } = first;
  // How much more they lean the rows of the staves tell alone.
  let done = 0;
  const staves = straight.tops.map((top) => [top, top + 4 * unit + 1] as const);
  for (const [from, to] of staves) first.fill(from, to);
  const more = leanOf(straight);
  if (more !== 0) {
    const sheet = sheetOf(page, lanes, unit, margins, lean + more);
    sheet.fill(0, straight.height);
    return sheet.straight;
  }
  for (const [from, to] of staves) {
    first.fill(done, from);
    done = to;
  }
  first.fill(done, straight.height);
  return straight;
}

/** A straightened picture that is still empty, and what fills its rows from one to before another. */
interface Sheet {
  readonly straight: Straight;
  readonly fill: (from: number, to: number) => void;
}

function sheetOf(
  page: Darkness,
  lanes: readonly Lane[],
  unit: number,
  { above, below, beside }: Margins,
  lean: number,
): Sheet {
  const space = lanes.reduce((sum, lane) => sum + lane.space, 0) / lanes.length;
  const step = space / unit;
  const start = Math.min(...lanes.map(({ x0 }) => x0)) - beside * space;
  const end = Math.max(...lanes.map(({ x1 }) => x1)) + beside * space;
  const width = Math.ceil((end - start) / step);
  // Rows: anchors at the top and bottom line of every staff, between them and beyond in proportion.
  const middle = Math.round((start + end) / 2);
  const column = (x: number) => Math.max(0, Math.min(page.width - 1, Math.round(x)));
  const line = (lane: Lane, x: number, k: number) => lane.centre[x]! + k * lane.spaces[x]!;
  const tops: number[] = [];
  lanes.forEach((lane, k) => {
    const before = lanes[k - 1];
    const x = column(middle);
    const gap = before ? Math.max(0.5, (line(lane, x, -2) - line(before, x, 2)) / space) : 0;
    tops.push(before ? tops[k - 1]! + 4 * unit + Math.round(gap * unit) : Math.round(above * unit));
  });
  const height = Math.round(tops.at(-1)! + (4 + below) * unit) + 1;
  const anchors = tops.flatMap((top) => [top, top + 4 * unit]);
  const heights = anchors.map(() => new Float32Array(width));
  for (let u = 0; u < width; u++) {
    const x = column(start + (u + 0.5) * step);
    lanes.forEach((lane, k) => {
      heights[2 * k]![u] = line(lane, x, -2);
      heights[2 * k + 1]![u] = line(lane, x, 2);
    });
  }
  const pivot = (anchors[0]! + anchors.at(-1)!) / 2;
  const segment = (v: number) => {
    let s = 0;
    while (s < anchors.length - 2 && v > anchors[s + 1]!) s++;
    return { s, share: (v - anchors[s]!) / (anchors[s + 1]! - anchors[s]!) };
  };
  const toPage = (u: number, v: number): readonly [number, number] => {
    const { s, share } = segment(v);
    const i = Math.max(0, Math.min(width - 1, Math.round(u - 0.5)));
    const y = heights[s]![i]! + (heights[s + 1]![i]! - heights[s]![i]!) * share;
    return [start + u * step + lean * (v - pivot) * step, y + 0.5];
  };
  const data = new Uint8Array(width * height);
  const rowAt = (v: number): Row => {
    const { s, share } = segment(v);
    // Middle of a pixel here lies between the middles of four pixels there.
    return { upper: s, share, offset: start + lean * (v - pivot) * step - 0.5 };
  };
  const fill = (from: number, to: number) => {
    const rows = Array.from({ length: Math.max(0, to - from) }, (_, i) => rowAt(from + i));
    fillRows(page, rows, heights, step, data.subarray(from * width, to * width));
  };
  const ends = lanes.map(({ x0, x1 }) => ({ x0: (x0 - start) / step, x1: (x1 - start) / step }));
  return { straight: { width, height, data, unit, tops, ends, toPage }, fill };
}

/** Where a row of a straightened picture lies on the page. */
interface Row {
  /** The level line above it, of those whose heights are known; it lies this share of the way to the next one. */
  readonly upper: number;
  readonly share: number;
  /** Column of the page at its left edge. */
  readonly offset: number;
}

/**
 * Fills rows of a straightened picture.
 * @param heights on the page of level lines, a value for each column of the picture
 * @param step on the page from one column to the next
 */
function fillRows(
  page: Darkness,
  rows: readonly Row[],
  heights: readonly Float32Array[],
  step: number,
  out: Uint8Array,
): void {
  if (rows.length === 0) return;
  const across = heights[0]!.length;
  const { ink, tiles, width, height } = page;
  const { at, bytes, floats } = lent(...heights.map((line) => 4 * line.length), out.length);
  const lineAt = (k: number) => at[k]!;
  const outAt = at.at(-1)!;
  heights.forEach((line, k) => floats.set(line, lineAt(k) / 4));
  bytes.fill(0, outAt, outAt + out.length);
  rows.forEach(({ upper, share, offset }, v) => {
    // The columns that come from the page and not from beside it.
    const first = Math.max(0, Math.ceil(-offset / step - 0.5));
    const end = Math.min(across, Math.ceil((width - 1 - offset) / step - 0.5));
    // prettier-ignore
    kernels().fillRow(
      ink, width, height, tiles, outAt + v * across, first, end,
      lineAt(upper), lineAt(upper + 1), share, offset, step,
    );
  });
  out.set(bytes.subarray(outAt, outAt + out.length));
}

/** Wipes out what lies above these lanes: the staff of the system before. */
export function wipeAbove(straight: Straight, lanes: readonly Lane[]): void {
  const { width, data, tops, toPage } = straight;
  for (let u = 0; u < width; u++) {
    const [x, upper] = toPage(u + 0.5, 0);
    const lower = toPage(u + 0.5, tops[0]!)[1];
    const column = Math.round(x);
    for (const lane of lanes) {
      if (column < lane.x0 || column >= lane.x1) continue;
      const below = lane.centre[column]! + 2.7 * lane.spaces[column]!;
      if (below <= upper || below >= lower) continue;
      const to = Math.ceil((tops[0]! * (below - upper)) / (lower - upper));
      for (let v = 0; v < to; v++) data[v * width + u] = 0;
    }
  }
}

/** How far bar lines may lean, in steps of so many pixels to the right for each pixel down. */
const LEANS = 4;
const LEAN = 0.012;
export const MOST_LEAN = LEANS * LEAN;

/**
 * How much more the bar lines lean, in pixels to the right for each pixel down: where the columns of the
 * staves are most unlike each other.
 */
function leanOf({ width, data, unit, tops }: Straight): number {
  const rows = 4 * unit + 1;
  const middle = (tops[0]! + tops.at(-1)! + 4 * unit) / 2;
  const { at, bytes, words } = lent(data.length, 4 * tops.length, 4 * width + VECTOR);
  const [picture, topsAt, sums] = at;
  bytes.set(data, picture);
  words.set(tops, topsAt / 4);
  const sharpness = (lean: number) =>
    kernels().sharpness(picture, width, topsAt, tops.length, rows, middle, lean, sums);
  let best = 0;
  let most = sharpness(0) * 1.01;
  for (let k = -LEANS; k <= LEANS; k++) {
    const now = sharpness(k * LEAN);
    if (now > most) [best, most] = [k * LEAN, now];
  }
  return best;
}
