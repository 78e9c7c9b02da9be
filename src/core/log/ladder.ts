import type { Plan, Span } from '../chart/types.ts';
import { rungsOf, sameMusic, stepsOf, type Step } from '../ladder/index.ts';

/** A plan's ladder: the steps of every rung, and the rungs' tempi from below. */
export interface Ladder {
  readonly steps: readonly Step[];
  readonly rungs: readonly number[];
  /** Index of the step with a span, by `keyOf`. */
  readonly bySpan: ReadonlyMap<number, number>;
}

/** One number for a span; routes are far shorter than this. */
const keyOf = (span: Span): number => span.from * 1_000_000 + span.to;

const known = new WeakMap<Plan, Ladder>();

/** Worked out once a plan: a fold asks for it at every pass. */
export function ladderOf(plan: Plan): Ladder {
  const held = known.get(plan);
  if (held) return held;
  const steps = stepsOf(plan);
  const bySpan = new Map<number, number>();
  // Without twins left out a span may be listed twice: the first counts.
  for (const [i, step] of steps.entries()) if (!bySpan.has(keyOf(step))) bySpan.set(keyOf(step), i);
  const ladder = { steps, rungs: rungsOf(plan.numbers), bySpan };
  known.set(plan, ladder);
  return ladder;
}

/** Index of the step with exactly this span, or -1. */
export function indexOfSpan(ladder: Ladder, span: Span): number {
  return ladder.bySpan.get(keyOf(span)) ?? -1;
}

/** Index of the step with this span, else (where twins are learned once) of one with the same music; -1. */
export function findStep(plan: Plan, span: Span): number {
  const ladder = ladderOf(plan);
  const exact = indexOfSpan(ladder, span);
  if (exact >= 0 || !plan.numbers.twins) return exact;
  return ladder.steps.findIndex(
    (step) => step.to - step.from === span.to - span.from && sameMusic(plan, span, plan, step),
  );
}

/** Which of the rungs at the same tempo this one is, from 0 (a rung may be climbed twice). */
export function nthAtTempo(rungs: readonly number[], rung: number): number {
  return rungs.slice(0, rung).filter((bpm) => bpm === rungs[rung]).length;
}

/** The rung that is the nth at its tempo, or -1. */
export function rungAt(rungs: readonly number[], bpm: number, nth: number): number {
  return rungs.findIndex((tempo, i) => tempo === bpm && nthAtTempo(rungs, i) === nth);
}
