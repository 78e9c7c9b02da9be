import { barsOf } from './edit-shape.ts';
import { routeFrom, startsSection } from './route.ts';
import type { Bar, BarId, Marks, Stretch } from './types.ts';

/**
 * The route as stretches of written bars, to be put right by hand: cut wherever it does not go on as the page
 * does, and where a section starts.
 */
export function stretchesOf(marks: Marks): Stretch[] {
  const { written, places } = routeFrom(marks);
  const at = new Map(written.map((bar, i) => [bar, i]));
  const stretches: Stretch[] = [];
  places.forEach(({ bar, leap }, i) => {
    const before = places[i - 1]?.bar;
    const goesOn = before !== undefined && at.get(before)! + 1 === at.get(bar)!;
    if (goesOn && !leap && !startsSection(bar))
      stretches[stretches.length - 1] = { ...stretches.at(-1)!, to: bar.id };
    else stretches.push({ from: bar.id, to: bar.id });
  });
  return stretches;
}

/**
 * An order by hand after an edit: where a stretch began or ended at a bar that has been split, joined or taken
 * off, it begins or ends at what is left of it. A stretch of which nothing is left goes.
 */
export function mendOrder(before: Marks, after: Marks): Marks {
  if (after.byHand === undefined) return after;
  const old = barsOf(before);
  const now = barsOf(after);
  const ids = new Set(now.map(({ id }) => id));
  if (after.byHand.every(({ from, to }) => ids.has(from) && ids.has(to))) return after;
  const mended = after.byHand.flatMap((stretch) => mend(stretch, old, now));
  const rest: { byHand?: readonly Stretch[] } & Marks = { ...after };
  delete rest.byHand;
  return mended.length === 0 ? rest : { ...rest, byHand: mended };
}

function mend({ from, to }: Stretch, old: readonly Bar[], now: readonly Bar[]): Stretch[] {
  const [first, last] = [from, to].map((id) => old.findIndex((bar) => bar.id === id)) as [number, number];
  const held = new Set<BarId>(old.slice(first, last + 1).map(({ id }) => id));
  const left = now.filter(({ id, was }) => held.has(id) || was?.some((each) => held.has(each)));
  return left.length === 0 ? [] : [{ from: left[0]!.id, to: left.at(-1)!.id }];
}
