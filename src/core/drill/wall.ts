import type { Span } from '../chart/types.ts';
import type { ChartState, CurrentStep } from '../log/state.ts';
import { beatsOf, gapSeconds, timedBars } from './layout.ts';
import { stepAfter } from './move.ts';
import type { WallOffer } from './phase.ts';
import type { DrillState } from './state.ts';

const WALL_PASSES = 30;
const WALL_MINUTES = 8;
const SLOWEST = 20;

/** Minutes that N clean passes of the step take, gaps included. */
function cleanMinutes({ chart, settings }: DrillState, step: CurrentStep): number {
  const plan = chart.plan!.plan;
  const beats = beatsOf(timedBars(plan, step));
  const seconds = (beats * 60) / step.bpm + gapSeconds(plan, step, settings, beats);
  return (step.streak * seconds) / 60;
}

/** Whether the step has stood for 30 passes, or 8 minutes more than its clean passes take. */
export function atWall(state: DrillState): boolean {
  const { step, tally, plan } = state.chart;
  if (!step || !plan) return false;
  return (
    tally.passes - state.wallFrom.passes >= WALL_PASSES ||
    tally.minutes - state.wallFrom.minutes >= cleanMinutes(state, step) + WALL_MINUTES
  );
}

/** What would help, worked out from where the passes broke. */
export function wallOffer(chart: ChartState): WallOffer {
  const step = chart.step!;
  const numbers = chart.plan!.plan.numbers;
  const slower = step.bpm - numbers.step;
  const breaks = [...chart.tally.breaks].sort((a, b) => b.count - a.count);
  return {
    breaksAt: breaks[0]?.place ?? null,
    slower: slower >= SLOWEST ? slower : null,
    half: halfOf(chart, step),
    leaveOpen: stepAfter(chart, 'left-open') !== null,
  };
}

/** The half of the span in which more passes broke; the second when they tell nothing. */
function halfOf(chart: ChartState, step: CurrentStep): Span | null {
  if (step.to === step.from) return null;
  const middle = Math.floor((step.from + step.to) / 2);
  const length = chart.plan!.plan.bars.length;
  const first = chart.tally.breaks
    .map(({ place, count }) => (place < step.from ? { place: place + length, count } : { place, count }))
    .reduce((sum, { place, count }) => sum + (place <= middle ? count : -count), 0);
  return first > 0 ? { from: step.from, to: middle } : { from: middle + 1, to: step.to };
}
