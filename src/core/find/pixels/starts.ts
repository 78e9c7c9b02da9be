/** Systems whose start was not seen, as the page is dark or bent there. */
import type { Straight } from './straight.ts';

/** A system begins so many spaces further right than others where its start is lost. */
const LATE = 3;

/** For each system of a page, top to bottom, whether it begins further right than one beside it; the first may be indented. */
export function beginLate(systems: readonly Straight[]): boolean[] {
  const lefts = systems.map(({ tops, ends, unit, toPage }) => {
    const middle = tops[0]! + 2 * unit;
    const [x] = toPage(ends[0]!.x0, middle);
    return { x, space: toPage(ends[0]!.x0 + unit, middle)[0] - x };
  });
  return lefts.map(({ x, space }, i) => {
    const beside = [lefts[i - 1], lefts[i + 1]].flatMap((one) => one?.x ?? []);
    return i > 0 && x - Math.min(...beside) > LATE * space;
  });
}
