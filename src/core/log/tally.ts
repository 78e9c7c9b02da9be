import type { Plan } from '../chart/types.ts';
import type { EventBase, PassBody } from './events.ts';
import type { StepTally } from './state.ts';

/** A gap lasts eight bars or as long as the pass; what is longer was a pause, and no work on the step. */
const LONGEST_GAP_BARS = 8;

/** Adds a pass that counts. `idle`: seconds since the pass before, null for the first. */
export function tallied(
  tally: StepTally,
  plan: Plan,
  pass: PassBody & EventBase,
  slipped: boolean,
  idle: number | null,
): StepTally {
  const first = plan.bars[pass.from];
  const bar = ((first?.beats ?? 0) * 60) / pass.bpm;
  const gap = Math.min(Math.max(0, idle ?? bar), Math.max(LONGEST_GAP_BARS * bar, pass.seconds));
  return {
    passes: tally.passes + 1,
    slips: tally.slips + (slipped ? 1 : 0),
    minutes: tally.minutes + (pass.seconds + gap) / 60,
    breaks: slipped && pass.slips.length > 0 ? withBreaks(tally.breaks, plan, pass) : tally.breaks,
  };
}

/** Place of the route for each slip; a bar that slipped twice in one pass broke once. */
function withBreaks(breaks: StepTally['breaks'], plan: Plan, pass: PassBody): StepTally['breaks'] {
  const counts = new Map(breaks.map(({ place, count }) => [place, count]));
  const places = new Set(pass.slips.map(({ beat }) => placeOf(plan, pass, beat)));
  for (const place of places) counts.set(place, (counts.get(place) ?? 0) + 1);
  return [...counts].map(([place, count]) => ({ place, count })).sort((a, b) => a.place - b.place);
}

/** Beats from the span's first bar line to a place; the lead-in counts to the first, the landing to the last. */
function placeOf(plan: Plan, { from, to }: PassBody, beat: number): number {
  const n = plan.bars.length;
  let place = from;
  let end = plan.bars[from % n]?.beats ?? 0;
  while (place < to && beat >= end) end += plan.bars[++place % n]?.beats ?? 0;
  return n === 0 ? place : place % n;
}
