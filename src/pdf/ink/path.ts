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
      const ends = [xAt(i), yAt(i), xAt(i + 2), yAt(i + 2)];
      if (code === CURVE) ends.push(xAt(i + 4), yAt(i + 4));
      i += ends.length;
      bend(path.points, x, y, ends);
      x = xAt(i - 2);
      y = yAt(i - 2);
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
const SQUARES = sharesOf((t) => [(1 - t) ** 2, 2 * t * (1 - t), t ** 2]);
const CUBES = sharesOf((t) => [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t ** 2 * (1 - t), t ** 3]);

function sharesOf(at: (t: number) => readonly number[]): readonly (readonly number[])[] {
  return Array.from({ length: PIECES }, (_, piece) => at((piece + 1) / PIECES));
}

/** Adds the pieces of a Bézier curve from (x, y) over `ends`, flat x, y, x, y …, two or three points. */
function bend(points: number[], x: number, y: number, ends: readonly number[]): void {
  for (const shares of ends.length === 6 ? CUBES : SQUARES) {
    let [px, py] = [shares[0]! * x, shares[0]! * y];
    for (let k = 0; k < ends.length; k += 2) {
      px += shares[k / 2 + 1]! * ends[k]!;
      py += shares[k / 2 + 1]! * ends[k + 1]!;
    }
    points.push(px, py);
  }
}

/** The same rings moved. */
export function movedRings(rings: readonly (readonly number[])[], [a, b, c, d, e, f]: Matrix): number[][] {
  return rings.map((ring) => {
    const points = new Array<number>(ring.length);
    for (let i = 0; i < points.length; i += 2) {
      const [x, y] = [ring[i]!, ring[i + 1]!];
      points[i] = a * x + c * y + e;
      points[i + 1] = b * x + d * y + f;
    }
    return points;
  });
}

/** Area inside a ring (shoelace formula). */
export function areaOf(points: readonly number[]): number {
  let twice = 0;
  for (let i = 0; i < points.length; i += 2) {
    const j = (i + 2) % points.length;
    twice += points[i]! * points[j + 1]! - points[j]! * points[i + 1]!;
  }
  return Math.abs(twice) / 2;
}
