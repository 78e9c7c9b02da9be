import { unitLength } from '../chart/meter.ts';
import type { Plan, RouteBar, Span } from '../chart/types.ts';
import type { DrillSettings } from '../drill/types.ts';
import { rungsOf } from './rungs.ts';
import { stepsOf } from './steps.ts';
import type { Cost, Step } from './types.ts';

/** What lies between passes. */
export interface Gaps {
  /** Bars before each pass, or as long as the pass; the count-in is part of it. */
  readonly gap: DrillSettings['gap'];
  /** The gap is never shorter than its count-in; absent, the count-in fits. */
  readonly countIn?: DrillSettings['countIn'];
  /** Seconds that the gap lasts at least, in whole bars; absent, no floor. */
  readonly floor?: number;
}

/** Room to breathe between passes: what the drill keeps to, with one bar of gap. */
export const usualGaps: Gaps = { gap: 1, countIn: { bars: 1 }, floor: 3 };

/** Length of a bar in beats of the plan's first unit: the tempo counts that unit, and note values keep. */
function barBeats(plan: Plan, bar: RouteBar): number {
  return (bar.beats * unitLength(bar.unit)) / unitLength(plan.bars[0]!.unit);
}

/** Length of a span in seconds at `bpm` of the first bar's unit, count-in and gap left out. */
export function secondsOf(plan: Plan, span: Span, bpm: number): number {
  let beats = 0;
  for (let place = span.from; place <= span.to; place++)
    beats += barBeats(plan, plan.bars[place % plan.bars.length]!);
  return (beats * 60) / bpm;
}

/** Length of the gap before a pass in seconds: whole bars of the span's first bar. */
export function gapSeconds(plan: Plan, span: Span, bpm: number, gaps: Gaps): number {
  const first = plan.bars[span.from % plan.bars.length]!;
  const bar = (barBeats(plan, first) * 60) / bpm;
  const bars = gaps.gap === 'as-long' ? Math.ceil(secondsOf(plan, span, bpm) / bar - ROUNDING) : gaps.gap;
  const floor = Math.ceil((gaps.floor ?? 0) / bar - ROUNDING);
  return Math.max(bars, countInBars(gaps.countIn, first), floor) * bar;
}

/** Keeps a sum that is a whole number of bars but for rounding from becoming one bar more. */
const ROUNDING = 1e-9;

function countInBars(countIn: Gaps['countIn'], first: RouteBar): number {
  if (countIn === undefined) return 0;
  return 'bars' in countIn ? countIn.bars : Math.ceil(countIn.beats / first.beats - ROUNDING);
}

/** What steps cost at one tempo if every pass is clean. */
export function costOf(steps: readonly Step[], plan: Plan, bpm: number, gaps: Gaps = usualGaps): Cost {
  let cleanPasses = 0;
  let seconds = 0;
  for (const step of steps) {
    cleanPasses += step.streak;
    seconds += step.streak * (secondsOf(plan, step, bpm) + gapSeconds(plan, step, bpm, gaps));
  }
  return { steps: steps.length, cleanPasses, minutes: seconds / 60 };
}

/** What the whole ladder costs, all rungs together, if every pass is clean. */
export function ladderCost(plan: Plan, gaps: Gaps = usualGaps): Cost {
  const steps = stepsOf(plan);
  const rungs = rungsOf(plan.numbers).map((bpm) => costOf(steps, plan, bpm, gaps));
  return rungs.reduce((sum, rung) => ({
    steps: sum.steps + rung.steps,
    cleanPasses: sum.cleanPasses + rung.cleanPasses,
    minutes: sum.minutes + rung.minutes,
  }));
}
