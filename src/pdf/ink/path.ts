import { xAt, yAt, type Matrix } from './matrix.ts';

/** pdf.js's codes in a path's data (its DrawOPS). */
const MOVE = 0;
const LINE = 1;
const QUADRATIC = 3;
const CLOSE = 4;

/** Pieces that a curve is cut into: heads and clefs keep their looks, a page stays small. */
const PIECES = 6;

/** One subpath in page points, flat x, y, x, y …. */
export interface SubPath {
  readonly points: number[];
  readonly closed: boolean;
  /** It has a curve somewhere. */
  readonly curved: boolean;
}

interface Drawn {
  readonly points: number[];
  closed: boolean;
  curved: boolean;
}

/** How many numbers follow each code, in their order: of a cubic curve, 2, two points and its end. */
const NUMBERS: readonly number[] = [2, 2, 6, 4, 0];

/**
 * Reads a path's data into subpaths. Data that makes no sense ends the reading. A page has thousands of paths, most of
 * them short: what runs for each makes nothing but its answer.
 */
export function subPaths(data: ArrayLike<number>, matrix: Matrix): SubPath[] {
  const found: Drawn[] = [];
  /** The subpath that is being drawn; null before the first and after one has been closed. */
  let open: Drawn | null = null;
  let x = 0;
  let y = 0;
  for (let i = 0; i < data.length;) {
    const code = data[i]!;
    const at = i + 1;
    const count = NUMBERS[code];
    if (count === undefined || at + count > data.length) break;
    i = at + count;
    if (code === CLOSE) {
      if (open === null) continue;
      open.closed = true;
      [x, y] = [open.points[0]!, open.points[1]!];
      open = null;
      continue;
    }
    const endX = xAt(matrix, data[i - 2]!, data[i - 1]!);
    const endY = yAt(matrix, data[i - 2]!, data[i - 1]!);
    if (code === MOVE || open === null) {
      const first = code === MOVE ? [endX, endY] : [x, y];
      open = { points: first, closed: false, curved: false };
      found.push(open);
    }
    if (code === LINE) open.points.push(endX, endY);
    else if (code !== MOVE) {
      open.curved = true;
      const x1 = xAt(matrix, data[at]!, data[at + 1]!);
      const y1 = yAt(matrix, data[at]!, data[at + 1]!);
      if (code === QUADRATIC) bend2(open.points, x, y, x1, y1, endX, endY);
      else {
        const x2 = xAt(matrix, data[at + 2]!, data[at + 3]!);
        const y2 = yAt(matrix, data[at + 2]!, data[at + 3]!);
        bend3(open.points, x, y, x1, y1, x2, y2, endX, endY);
      }
    }
    [x, y] = [endX, endY];
  }
  return found.every(hasPlaces) ? found : found.filter(hasPlaces);
}

function hasPlaces({ points }: Drawn): boolean {
  for (const value of points) if (!Number.isFinite(value)) return false;
  return true;
}

/** Shares of a curve's ends in each of its pieces' ends: Bernstein's polynomials of second and third degree. */
const SQUARES = sharesOf((t) => ({ a: (1 - t) ** 2, b: 2 * t * (1 - t), c: t ** 2 }));
const CUBES = sharesOf((t) => ({
  a: (1 - t) ** 3,
  b: 3 * t * (1 - t) ** 2,
  c: 3 * t ** 2 * (1 - t),
  d: t ** 3,
}));

function sharesOf<Shares>(at: (t: number) => Shares): readonly Shares[] {
  return Array.from({ length: PIECES }, (_, piece) => at((piece + 1) / PIECES));
}

/** Adds the pieces of a quadratic Bézier curve from (x0, y0) by (x1, y1) to (x2, y2). */
function bend2(points: number[], x0: number, y0: number, x1: number, y1: number, x2: number, y2: number) {
  for (const { a, b, c } of SQUARES) points.push(a * x0 + b * x1 + c * x2, a * y0 + b * y1 + c * y2);
}

/** Adds those of a cubic one, whose ends are the first and the last. */
function bend3(
  points: number[],
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  x3: number,
  y3: number,
) {
  for (const { a, b, c, d } of CUBES)
    points.push(a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3);
}

/** The same rings moved. */
export function movedRings(rings: readonly (readonly number[])[], [a, b, c, d, e, f]: Matrix): number[][] {
  return rings.map((ring) => {
    const points = new Array<number>(ring.length);
    for (let i = 0; i < points.length; i += 2) {
      const x = ring[i]!;
      const y = ring[i + 1]!;
      points[i] = a * x + c * y + e;
      points[i + 1] = b * x + d * y + f;
    }
    return points;
  });
}

/** Area inside a ring (shoelace formula). */
export function areaOf(points: readonly number[]): number {
  let twice = 0;
  const last = points.length - 2;
  for (let i = 0; i < last; i += 2) twice += points[i]! * points[i + 3]! - points[i + 2]! * points[i + 1]!;
  if (last >= 0) twice += points[last]! * points[1]! - points[0]! * points[last + 1]!;
  return Math.abs(twice) / 2;
}
