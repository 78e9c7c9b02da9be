import type { Matrix } from './matrix.ts';

/** pdf.js's codes in a path's data (its DrawOPS). */
const MOVE = 0;
const LINE = 1;
const CURVE = 2;
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

/** Reads a path's data into subpaths. Data that makes no sense ends the reading. */
export function subPaths(data: ArrayLike<number>, matrix: Matrix): SubPath[] {
  const found: { points: number[]; closed: boolean; curved: boolean }[] = [];
  let x = 0;
  let y = 0;
  const [a, b, c, d, e, f] = matrix;
  const xAt = (i: number) => a * data[i]! + c * data[i + 1]! + e;
  const yAt = (i: number) => b * data[i]! + d * data[i + 1]! + f;
  const start = () => {
    found.push({ points: [x, y], closed: false, curved: false });
  };
  const current = () => {
    if (found.at(-1)?.closed !== false) start();
    return found.at(-1)!;
  };
  for (let i = 0; i < data.length;) {
    const code = data[i++];
    if (code === MOVE && i + 2 <= data.length) {
      x = xAt(i);
      y = yAt(i);
      i += 2;
      start();
    } else if (code === LINE && i + 2 <= data.length) {
      const { points } = current();
      x = xAt(i);
      y = yAt(i);
      i += 2;
      points.push(x, y);
    } else if ((code === CURVE && i + 6 <= data.length) || (code === QUADRATIC && i + 4 <= data.length)) {
      const path = current();
      path.curved = true;
      const ends = code === CURVE ? 6 : 4;
      const endX = xAt(i + ends - 2);
      const endY = yAt(i + ends - 2);
      if (code === CURVE) bend3(path.points, x, y, xAt(i), yAt(i), xAt(i + 2), yAt(i + 2), endX, endY);
      else bend2(path.points, x, y, xAt(i), yAt(i), endX, endY);
      x = endX;
      y = endY;
      i += ends;
    } else if (code === CLOSE) {
      const last = found.at(-1);
      if (last === undefined || last.closed) continue;
      last.closed = true;
      [x, y] = [last.points[0]!, last.points[1]!];
    } else break;
  }
  return found.filter(({ points }) => points.every(Number.isFinite));
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
