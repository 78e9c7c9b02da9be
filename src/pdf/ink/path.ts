import type { PointBox } from '../../core/find/types.ts';
import { moved, type Matrix } from './matrix.ts';

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
  const at = (i: number) => moved(matrix, data[i]!, data[i + 1]!);
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
      [x, y] = at(i);
      i += 2;
      start();
    } else if (code === LINE && i + 2 <= data.length) {
      const { points } = current();
      [x, y] = at(i);
      i += 2;
      points.push(x, y);
    } else if ((code === CURVE && i + 6 <= data.length) || (code === QUADRATIC && i + 4 <= data.length)) {
      const path = current();
      path.curved = true;
      const ends = code === CURVE ? [at(i), at(i + 2), at(i + 4)] : [at(i), at(i + 2)];
      i += ends.length * 2;
      bend(path.points, [x, y], ends);
      [x, y] = ends.at(-1)!;
    } else if (code === CLOSE) {
      const last = found.at(-1);
      if (last === undefined || last.closed) continue;
      last.closed = true;
      [x, y] = [last.points[0]!, last.points[1]!];
    } else break;
  }
  return found.filter(({ points }) => points.every(Number.isFinite));
}

type Point = readonly [number, number];

/** Adds the pieces of a Bézier curve of second or third degree. */
function bend(points: number[], from: Point, ends: readonly Point[]): void {
  for (let piece = 1; piece <= PIECES; piece++) {
    const t = piece / PIECES;
    let level: Point[] = [from, ...ends];
    while (level.length > 1)
      level = level
        .slice(1)
        .map((b, k): Point => [level[k]![0] * (1 - t) + b[0] * t, level[k]![1] * (1 - t) + b[1] * t]);
    points.push(level[0]![0], level[0]![1]);
  }
}

export function boxOf(rings: readonly (readonly number[])[]): PointBox {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const points of rings)
    for (let i = 0; i < points.length; i += 2) {
      x0 = Math.min(x0, points[i]!);
      x1 = Math.max(x1, points[i]!);
      y0 = Math.min(y0, points[i + 1]!);
      y1 = Math.max(y1, points[i + 1]!);
    }
  return [x0, y0, x1, y1];
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
