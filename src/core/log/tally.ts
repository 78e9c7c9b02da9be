import type { Plan } from '../chart/types.ts';
import type { EventBase, PassBody } from './events.ts';
import type { Streak } from './rope.ts';
import type { StepTally } from './state.ts';

/** A gap lasts eight bars or as long as the pass; what is longer was a pause, and no work on the step. */
const LONGEST_GAP_BARS = 8;

/** Adds a pass that counts. `idle`: seconds since the pass before, null for the first. */
export function addToTally(
  tally: Streak['tally'],
  plan: Plan,
  pass: PassBody & EventBase,
  slipped: boolean,
  idle: number | null,
): void {
  const bar = ((plan.bars[pass.from]?.beats ?? 0) * 60) / pass.bpm;
  const gap = Math.min(Math.max(0, idle ?? bar), Math.max(LONGEST_GAP_BARS * bar, pass.seconds));
  tally.passes++;
  tally.minutes += (pass.seconds + gap) / 60;
  if (!slipped) return;
  tally.slips++;
  if (pass.slips.length > 0) tally.breaks = withBreaks(tally.breaks, plan, pass);
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
