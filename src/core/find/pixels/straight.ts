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
 * Pulls staves straight.
 * @param lanes top to bottom
 * @param lean of bar lines: pixels to the right for each pixel down
 */
export function straighten(
  page: Picture,
  lanes: readonly Lane[],
  unit: number,
  { above, below, beside }: Margins,
  lean: number,
): Straight {
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
  for (let v = 0; v < height; v++) {
    const { s, share } = segment(v);
    const [upper, lower] = [heights[s]!, heights[s + 1]!];
    // Middle of a pixel here lies between the middles of four pixels there.
    const offset = start + lean * (v - pivot) * step - 0.5;
    for (let u = 0, k = v * width; u < width; u++, k++) {
      const x = offset + (u + 0.5) * step;
      const y = upper[u]! + (lower[u]! - upper[u]!) * share;
      if (x < 0 || y < 0 || x >= page.width - 1 || y >= page.height - 1) continue;
      const [i, j] = [x | 0, y | 0];
      const [a, b] = [x - i, y - j];
      const at = j * page.width + i;
      const p = page.data;
      const first = p[at]! + (p[at + 1]! - p[at]!) * a;
      const second = p[at + page.width]! + (p[at + page.width + 1]! - p[at + page.width]!) * a;
      data[k] = first + (second - first) * b;
    }
  }
  const ends = lanes.map(({ x0, x1 }) => ({ x0: (x0 - start) / step, x1: (x1 - start) / step }));
  return { width, height, data, unit, tops, ends, toPage };
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

/**
 * How much more the bar lines lean, in pixels to the right for each pixel down: where the columns of the
 * staves are most unlike each other.
 */
export function leanOf({ width, data, unit, tops }: Straight): number {
  const sharpness = (lean: number) => {
    const sums = new Float32Array(width);
    const middle = (tops[0]! + tops.at(-1)! + 4 * unit) / 2;
    for (const top of tops)
      for (let v = top; v <= top + 4 * unit; v++) {
        const shift = Math.round(lean * (v - middle));
        for (let u = Math.max(0, -shift), end = Math.min(width, width - shift); u < end; u++)
          sums[u]! += data[v * width + u + shift]!;
      }
    // The fourth power: columns that are black from end to end count, all else hardly.
    return sums.reduce((sum, value) => sum + (value / 1000) ** 4, 0);
  };
  let best = 0;
  let most = sharpness(0) * 1.01;
  for (let k = -4; k <= 4; k++) {
    const now = sharpness(k * 0.012);
    if (now > most) [best, most] = [k * 0.012, now];
  }
  return best;
}
