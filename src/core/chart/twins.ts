import type { BarId } from './types.ts';
import type { WrittenBar } from './written.ts';

/**
 * Which written bars hold the same music as marked: a map from every bar id to one id of its class.
 * Twins are transitive; a bar that is marked as a twin of none that is there stands alone.
 */
export function classesOf(written: readonly WrittenBar[]): ReadonlyMap<BarId, BarId> {
  const parent = new Map<BarId, BarId>();
  for (const bar of written) for (const id of bar.ids) parent.set(id, bar.id);
  const root = (id: BarId): BarId => {
    const up = parent.get(id)!;
    if (up === id) return id;
    const top = root(up);
    parent.set(id, top);
    return top;
  };
  for (const bar of written)
    if (bar.as !== null && parent.has(bar.as)) parent.set(root(bar.id), root(bar.as));
  return new Map([...parent.keys()].map((id) => [id, root(id)]));
}

/**
 * For each place of the route, the first place that holds the same music. A repeated bar is its own
 * twin; a tie over either edge, as the route runs, makes it no twin of a bar without, and so does
 * another length. `intoFirst` tells whether a pickup is tied into the first bar.
 */
export function twinPlaces(
  route: readonly WrittenBar[],
  classes: ReadonlyMap<BarId, BarId>,
  intoFirst: boolean,
): number[] {
  const first = new Map<string, number>();
  return route.map((bar, place) => {
    const tiedIn = place === 0 ? intoFirst : route[place - 1]!.tied;
    const key = JSON.stringify([classes.get(bar.id), tiedIn, bar.tied, bar.unit, bar.beats]);
    if (!first.has(key)) first.set(key, place);
    return first.get(key)!;
  });
}
