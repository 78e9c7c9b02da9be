import { boxOf } from './path.ts';

/** Two outlines are the same when no point lies further apart than this share of their size. */
const TOLERANCE = 0.02;

interface Known {
  readonly name: string;
  readonly points: readonly number[];
  readonly size: number;
}

/**
 * Names outlines so that those that look the same, wherever they stand, have the same name. One for all
 * pages of a file: engravers without fonts draw the same head hundreds of times.
 */
export class Outlines {
  readonly #known = new Map<string, Known[]>();
  #count = 0;

  nameOf(rings: readonly (readonly number[])[]): string {
    const [x0, y0, x1, y1] = boxOf(rings);
    const size = Math.max(x1 - x0, y1 - y0);
    const points = rings.flatMap((ring) => ring.map((value, i) => value - (i % 2 === 0 ? x0 : y0)));
    const key = rings.map((ring) => ring.length).join();
    const list = this.#known.get(key) ?? [];
    const slack = size * TOLERANCE + 0.02;
    const same = list.find(
      (known) =>
        Math.abs(known.size - size) < slack &&
        known.points.every((value, i) => Math.abs(value - points[i]!) < slack),
    );
    if (same) return same.name;
    const name = `o${this.#count++}`;
    list.push({ name, points, size });
    this.#known.set(key, list);
    return name;
  }
}
