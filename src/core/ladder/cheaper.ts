import type { Numbers, Plan } from '../chart/types.ts';
import { costOf, usualGaps, type Gaps } from './cost.ts';
import { rungsOf } from './rungs.ts';
import { stepsOf } from './steps.ts';
import type { Cost } from './types.ts';

export type Saving = 'pairs' | 'three-in-a-row' | 'sections-of-four' | 'differing';

/** What each saving does to the numbers. Three in a row and sections of four: common practice, no source. */
const CHANGES: Record<Saving, Partial<Numbers>> = {
  'sections-of-four': { sectionLength: 4 },
  pairs: { joining: 'pairs' },
  'three-in-a-row': { joinStreak: 3 },
  differing: { differing: true },
};

/** A way to make the ladder cheaper: what to change, the numbers after it, and what a rung costs then. */
export interface Cheaper {
  readonly what: readonly Saving[];
  readonly numbers: Numbers;
  /** One rung, at the tempo that was asked about. */
  readonly cost: Cost;
}

/**
 * What would make a rung cheaper, alone and together, the cheapest last. Each part of a combination
 * is worth its place: without it the combination would cost more. `bpm` is the first rung by default.
 */
export function cheaper(plan: Plan, bpm?: number, gaps: Gaps = usualGaps): Cheaper[] {
  const at = bpm ?? rungsOf(plan.numbers)[0]!;
  const savings = (Object.keys(CHANGES) as Saving[]).filter((saving) => isOpen(plan.numbers, saving));
  const all = subsets(savings).map((what): Cheaper => {
    const numbers = Object.assign({}, plan.numbers, ...what.map((saving) => CHANGES[saving])) as Numbers;
    const changed = { ...plan, numbers };
    return { what, numbers, cost: costOf(stepsOf(changed), changed, at, gaps) };
  });
  const minutes = new Map(all.map((way) => [way.what.join(), way.cost.minutes]));
  const isWorthIt = ({ what, cost }: Cheaper) =>
    what.every((part) => cost.minutes < minutes.get(what.filter((other) => other !== part).join())! - 1e-9);
  return all
    .filter((way) => way.what.length > 0 && isWorthIt(way))
    .sort((a, b) => b.cost.minutes - a.cost.minutes);
}

/** Whether the saving has not been taken yet, and does not undo a smaller number of the player's own. */
function isOpen(numbers: Numbers, saving: Saving): boolean {
  if (saving === 'pairs') return numbers.joining !== 'pairs';
  if (saving === 'three-in-a-row') return numbers.joinStreak > 3;
  if (saving === 'differing') return !numbers.differing && numbers.twins;
  return numbers.sectionLength === null || numbers.sectionLength > 4;
}

/** All subsets, each in the order of `items`, the empty one first. */
function subsets<T>(items: readonly T[]): T[][] {
  return items.reduce<T[][]>((found, item) => [...found, ...found.map((set) => [...set, item])], [[]]);
}
