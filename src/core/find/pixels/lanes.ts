import { median } from '../../median.ts';
import { kernels, lent } from '../kernels/kernels.ts';
import type { Darkness } from './darkness.ts';
import type { Track } from './tracks.ts';

/** Where one staff runs over the page, in pixels. Arrays hold a value for every column of the page. */
export interface Lane {
  /** Ends of its lines. */
  readonly x0: number;
  readonly x1: number;
  /** Mean distance of two lines. */
  readonly space: number;
  /** Height of the third line. */
  readonly centre: Float32Array;
  /** Distance of two lines. */
  readonly spaces: Float32Array;
  /** Mean slope, pixels down for each pixel to the right. */
  readonly slope: number;
}

/** Columns this far apart, in spaces, are measured. */
const EVERY = 2;
/** Half the width of a measurement, and of the smoothing over measurements, in spaces. */
const WIDE = 2;
const SMOOTH = 10;
/** Share of the measurements that must succeed. */
const TRACED = 0.35;
/** Lines are looked for this far from where they are expected, in spaces. */
const NEAR = 0.3;
/** Darkness by which a line stands out, 0–255: as most do, and as hairlines do on a grainy page. */
const SEEN = 40;
const SEEN_FAINT = 25;
/** Shares of a staff's length that its five lines can be seen on, on the whole and each; and a sixth line not. */
const THROUGH = 0.6;
const THROUGH_LEAST = 0.42;
const SIXTH = 0.5;
/** Grain passes for a faint line here and there: then a sixth line is seen on less than this. */
const SIXTH_FAINT = 0.3;
/** So many lines of five go on where the staff goes on; so far apart, in spaces, are its last breaks. */
const LINES = 3;
const BREAK = 1.2;

/** The lane of a staff whose combs were found in strips of this width. Null when its lines cannot be traced. */
export function laneOf(page: Darkness, track: Track, strip: number, reach: number): Lane | null {
  const space = median(track.map((comb) => comb.space));
  const rough = (x: number) =>
    along(
      track.map(({ strip: s, y }) => [(s + 0.5) * strip, y] as const),
      x,
    );
  const from = track[0]!.strip * strip - 3 * space;
  const to = (track.at(-1)!.strip + 1) * strip + 3 * space;
  const points: { x: number; y: number; d: number }[] = [];
  const places: number[] = [];
  for (let x = from; x <= to; x += EVERY * space) places.push(x);
  const thin = thinAround(page, space, reach);
  for (const x of places) {
    const found = measure(thin, x, rough(x), space);
    if (found) points.push({ x, ...found });
  }
  if (points.length < Math.max(4, (TRACED * (to - from)) / (EVERY * space))) return null;
  const centre = new Float32Array(page.width);
  const spaces = new Float32Array(page.width);
  const whole = lineThrough(points.map(({ x, d }) => [x, d]));
  const step = Math.max(1, Math.round(space / 2));
  for (let x = 0; x < page.width + step; x += step) {
    const local = smoothAt(points, x, SMOOTH * space);
    for (let i = Math.max(0, x - step + 1), k = 1; i <= x && i < page.width; i++, k++) {
      const before = x === 0 ? local : centre[x - step]!;
      centre[i] = x === 0 ? local : before + ((local - before) * k) / step;
      spaces[i] = whole.at + whole.slope * i;
    }
  }
  const endsAt = (seen: number, sixth: number) => {
    const lines = linesAlong(page, centre, spaces, reach, seen);
    const found = endsOf(lines, from, to, space);
    return found && isStaff(lines, found, sixth) ? found : null;
  };
  const ends = endsAt(SEEN, SIXTH) ?? endsAt(SEEN_FAINT, SIXTH_FAINT);
  if (!ends) return null;
  const slope = lineThrough(points.map(({ x, y }) => [x, y])).slope;
  return { ...ends, space: whole.at + (whole.slope * (ends.x0 + ends.x1)) / 2, centre, spaces, slope };
}

/** The mean of what is thin around a column in each of so many rows from a first one on, 0–255. */
type ThinRows = (x: number, first: number, rows: number) => Float32Array;

function thinAround({ width, height, ink }: Darkness, space: number, reach: number): ThinRows {
  const half = Math.round(WIDE * space);
  const { at, floats } = lent(4 * (Math.ceil(2 * NEAR * space) + 2));
  const [found] = at;
  return (x, first, rows) => {
    const [from, to] = [Math.max(0, Math.round(x - half)), Math.min(width, Math.round(x + half) + 1)];
    if (to > from) kernels().thinRows(ink, width, height, from, to, first, rows, reach, found);
    else floats.fill(0, found / 4, found / 4 + rows);
    return floats.subarray(found / 4, found / 4 + rows);
  };
}

/** Height and space measured around a column: each line where it is darkest, at least four of five. */
function measure(thin: ThinRows, x: number, y: number, space: number) {
  const heights: (readonly [number, number])[] = [];
  const near = NEAR * space;
  for (let k = -2; k <= 2; k++) {
    const expected = y + k * space;
    const first = Math.ceil(expected - near);
    let sum = 0;
    let moment = 0;
    thin(x, first, Math.floor(expected + near) - first + 1).forEach((dark, i) => {
      const weight = dark * dark;
      sum += weight;
      moment += weight * (first + i);
    });
    if (sum > 25) heights.push([k, moment / sum]);
  }
  if (heights.length < 4) return null;
  const { at, slope } = lineThrough(heights);
  return Math.abs(slope / space - 1) < 0.12 ? { y: at, d: slope } : null;
}

/** The lines of a staff, top to bottom, and where one more would be above and below. */
const ALL_LINES = [-3, -2, -1, 0, 1, 2, 3];

/** For each of these whether a thin dark line crosses a column of the page there: 1, or else 0. */
function linesAlong(
  { width, height, ink }: Darkness,
  centre: Float32Array,
  spaces: Float32Array,
  reach: number,
  seen: number,
): Uint8Array[] {
  const { at, bytes, floats } = lent(4 * width, 4 * width, width);
  const [centreAt, spacesAt, found] = at;
  floats.set(centre, centreAt / 4);
  floats.set(spaces, spacesAt / 4);
  return ALL_LINES.map((line) => {
    // prettier-ignore
    kernels().lineAlong(
      ink, width, height, centreAt, spacesAt, line, reach, seen, 0, width, found,
    );
    return bytes.slice(found, found + width);
  });
}

/** Ends of the lines: going outwards from the middle, where fewer than three of five go on. */
function endsOf(
  all: readonly Uint8Array[],
  from: number,
  to: number,
  space: number,
): { x0: number; x1: number } | null {
  const five = all.slice(1, 6);
  const { length } = five[0]!;
  const seen = new Uint8Array(length);
  for (let x = Math.max(0, Math.floor(from)); x < Math.min(length, to); x++) {
    let lines = 0;
    for (const line of five) lines += line[x]!;
    seen[x] = lines >= LINES ? 1 : 0;
  }
  // The longest stretch without a break; crowded columns inside count as seen when both sides go on.
  let best: { x0: number; x1: number } | null = null;
  let start = -1;
  let last = -1;
  const widest = BREAK * space;
  const isFull = (x0: number, x1: number) => {
    let sum = 0;
    for (let x = x0; x <= x1; x++) sum += seen[x]!;
    return sum;
  };
  for (let x = 0; x < length; x++) {
    if (!seen[x]) continue;
    if (last < 0 || x - last > 6 * widest) start = x;
    last = x;
    if (!best || last - start > best.x1 - best.x0) best = { x0: start, x1: last };
  }
  if (!best) return null;
  // Specks beyond the end: the outermost space of columns must mostly hold lines.
  const few = Math.max(2, Math.round(space));
  while (best.x1 - best.x0 > 4 * few && (!seen[best.x0] || isFull(best.x0, best.x0 + few - 1) < 0.6 * few))
    best = { x0: best.x0 + 1, x1: best.x1 };
  while (best.x1 - best.x0 > 4 * few && (!seen[best.x1] || isFull(best.x1 - few + 1, best.x1) < 0.6 * few))
    best = { x0: best.x0, x1: best.x1 - 1 };
  return best.x1 - best.x0 > 8 * space ? { x0: best.x0, x1: best.x1 + 1 } : null;
}

/** Its five lines run through, which lines of words do not; a sixth, as in tables and grids, does not. */
function isStaff(all: readonly Uint8Array[], { x0, x1 }: { x0: number; x1: number }, sixth: number): boolean {
  const seen = all.map((line) => {
    let columns = 0;
    for (let x = x0; x < x1; x++) columns += line[x]!;
    return columns / (x1 - x0);
  });
  const five = seen.slice(1, 6);
  return (
    Math.min(...five) >= THROUGH_LEAST &&
    five.reduce((a, b) => a + b) / 5 >= THROUGH &&
    Math.max(seen[0]!, seen[6]!) < sixth
  );
}

/** Height at a column from a straight line through the points around it, nearer ones weighing more. */
function smoothAt(points: readonly { x: number; y: number }[], x: number, width: number): number {
  const nearest = Math.max(points[0]!.x, Math.min(points.at(-1)!.x, x));
  const line = new Line();
  const weigh = (far: number) => {
    for (const point of points) {
      const away = Math.abs(point.x - nearest);
      if (away <= far) line.add(point.x - x, point.y, Math.max(0.02, 1 - away / width));
    }
  };
  weigh(width);
  if (line.count < 2) {
    line.clear();
    weigh(Infinity);
  }
  return line.fitted().at;
}

/** Least squares: y = at + slope · x. */
class Line {
  count = 0;
  #n = 0;
  #sx = 0;
  #sy = 0;
  #sxx = 0;
  #sxy = 0;

  clear(): void {
    this.count = this.#n = this.#sx = this.#sy = this.#sxx = this.#sxy = 0;
  }

  add(x: number, y: number, weight = 1): void {
    this.count++;
    this.#n += weight;
    this.#sx += weight * x;
    this.#sy += weight * y;
    this.#sxx += weight * x * x;
    this.#sxy += weight * x * y;
  }

  fitted(): { at: number; slope: number } {
    const spread = this.#n * this.#sxx - this.#sx * this.#sx;
    const slope = Math.abs(spread) > 1e-9 ? (this.#n * this.#sxy - this.#sx * this.#sy) / spread : 0;
    return { at: (this.#sy - slope * this.#sx) / (this.#n || 1), slope };
  }
}

export function lineThrough(points: readonly (readonly [x: number, y: number])[]): {
  at: number;
  slope: number;
} {
  const line = new Line();
  for (const [x, y] of points) line.add(x, y);
  return line.fitted();
}

/** Between points from left to right, going on straight beyond them. */
function along(points: readonly (readonly [number, number])[], x: number): number {
  let i = 1;
  while (i < points.length - 1 && points[i]![0] < x) i++;
  const [a, b] = [points[i - 1]!, points[i] ?? points[i - 1]!];
  if (a === b) return a[1];
  // Beyond the ends the slope of several combs is used: that of two is unsure.
  if (x < points[0]![0] || x > points.at(-1)![0]) {
    const few = x < points[0]![0] ? points.slice(0, 6) : points.slice(-6);
    const { at, slope } = lineThrough(few);
    return at + slope * x;
  }
  return a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0]);
}
