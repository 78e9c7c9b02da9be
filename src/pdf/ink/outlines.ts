import { boxOf } from '../../core/find/rings.ts';

/** Two outlines are the same when no point lies further apart than this share of their size. */
const TOLERANCE = 0.02;

/** Points this close, in page points, are one: rounding may leave a last step back to a ring's start, or none. */
const SAME_POINT = 0.05;

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

  nameOf(drawn: readonly (readonly number[])[]): string {
    const rings = drawn.map(withoutReturn);
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

/** A ring without points at its end that are its start again. */
function withoutReturn(ring: readonly number[]): readonly number[] {
  let end = ring.length;
  const isStart = (i: number) => Math.abs(ring[i]! - ring[i % 2]!) <= SAME_POINT;
  while (end > 2 && isStart(end - 1) && isStart(end - 2)) end -= 2;
  return end === ring.length ? ring : ring.slice(0, end);
}
