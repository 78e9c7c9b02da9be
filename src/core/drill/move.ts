import type { Span } from '../chart/types.ts';
import { rungsOf } from '../ladder/index.ts';
import { ladderOf } from '../log/ladder.ts';
import type { ChartState } from '../log/state.ts';

export interface Target extends Span {
  readonly bpm: number;
}

const same = (a: Span, b: Span) => a.from === b.from && a.to === b.to;

/**
 * The step that comes next when this one is skipped or left open; null where there is none.
 * At the end of a rung those that were left open come again; only a skip goes on to the next tempo.
 */
export function stepAfter(chart: ChartState, why: 'skip' | 'left-open'): Target | null {
  const { step, plan, open } = chart;
  if (!step || !plan) return null;
  const { steps } = ladderOf(plan.plan);
  const at = step.index < 0 ? steps.findIndex((each) => same(each, step)) : step.index;
  const next = steps[at + 1];
  if (next) return { from: next.from, to: next.to, bpm: step.bpm };
  const other = open.find((span) => !same(span, step));
  if (other) return { from: other.from, to: other.to, bpm: step.bpm };
  const above = rungsOf(plan.plan.numbers).find((bpm) => bpm > step.bpm);
  const first = steps[0];
  return why === 'skip' && above !== undefined && first
    ? { from: first.from, to: first.to, bpm: above }
    : null;
}

/** The step before this one, in the rung below when this is the first; null at the very start. */
export function stepBefore(chart: ChartState): Target | null {
  const { step, plan, finished } = chart;
  if (!plan) return null;
  const { steps } = ladderOf(plan.plan);
  const rungs = rungsOf(plan.plan.numbers);
  const lastOf = (bpm: number | undefined): Target | null => {
    const last = steps.at(-1);
    return last && bpm !== undefined ? { from: last.from, to: last.to, bpm } : null;
  };
  if (!step) return finished ? lastOf(rungs.at(-1)) : null;
  const at = step.index < 0 ? steps.findIndex((each) => same(each, step)) : step.index;
  const before = steps[at - 1];
  if (before) return { from: before.from, to: before.to, bpm: step.bpm };
  return at === 0 ? lastOf(rungs.filter((bpm) => bpm < step.bpm).at(-1)) : null;
}
