import { staffAt } from '../bars/bars.ts';
import { isCurve } from './curves.ts';
import type { Sign } from './things.ts';
import { middleX, middleY, type SystemInk } from './written.ts';

/** All in spaces: how far a tie's end stands from its head across and up or down. */
const ACROSS = 1;
const AWAY = 2;
/** Heads of one pitch, and the ends of a tie, lie at one height. */
const LEVEL = 0.25;
const LEVEL_ENDS = 0.45;
/** Heads of one chord. */
const COLUMN = 0.8;

/**
 * For each bar of a system, whether a note is tied over its right edge: a curve joins a head of its last column
 * with one of the same height in the next bar's first. What goes over a line's end is not told.
 */
export function tiesOf({ staves, signs, bars }: SystemInk): boolean[] {
  const { space } = staves[0]!;
  const curves = signs.filter((sign) => isCurve(sign, space));
  const heads = signs.filter(({ kind }) => kind === 'head');
  const rests = signs.filter(({ kind }) => kind === 'rest');
  return bars.map((bar, i) => {
    const next = bars[i + 1];
    if (next === undefined) return false;
    return staves.some((_, staff) => {
      const on = (list: readonly Sign[], x0: number, x1: number) =>
        list.filter(
          (one) => middleX(one) > x0 && middleX(one) < x1 && staffAt(staves, middleY(one)) === staff,
        );
      const before = on(heads, bar.x0, bar.x1);
      const after = on(heads, next.x0, next.x1);
      const last = Math.max(...before.map(middleX));
      const first = Math.min(...after.map(middleX));
      if (on(rests, last, bar.x1).length > 0 || on(rests, next.x0, first).length > 0) return false;
      return before
        .filter((head) => last - middleX(head) < COLUMN * space)
        .some((head) =>
          after
            .filter((other) => middleX(other) - first < COLUMN * space)
            .some(
              (other) =>
                Math.abs(middleY(head) - middleY(other)) <= LEVEL * space &&
                curves.some((curve) => joins(curve, head, other, space)),
            ),
        );
    });
  });
}

function joins({ ink: { box, rings } }: Sign, left: Sign, right: Sign, space: number): boolean {
  const points = rings.flatMap((ring) =>
    ring.flatMap((x, i) => (i % 2 === 0 ? [{ x, y: ring[i + 1]! }] : [])),
  );
  const start = points.find(({ x }) => x === box[0]);
  const end = points.find(({ x }) => x === box[2]);
  if (start === undefined || end === undefined) return false;
  return (
    Math.abs(start.y - end.y) <= LEVEL_ENDS * space &&
    Math.abs(start.x - middleX(left)) <= ACROSS * space &&
    Math.abs(end.x - middleX(right)) <= ACROSS * space &&
    Math.abs(start.y - middleY(left)) <= AWAY * space
  );
}
