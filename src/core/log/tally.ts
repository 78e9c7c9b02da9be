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

/** One break more at the place of each slip, in the route's order; a bar that slipped twice in a pass broke once. */
function withBreaks(breaks: StepTally['breaks'], plan: Plan, pass: PassBody): StepTally['breaks'] {
  const places: number[] = [];
  for (const { beat } of pass.slips) {
    const place = placeOf(plan, pass, beat);
    if (!places.includes(place)) places.push(place);
  }
  const next = [...breaks];
  for (const place of places) {
    const at = next.findIndex((each) => each.place >= place);
    if (next[at]?.place === place) next[at] = { place, count: next[at].count + 1 };
    else next.splice(at < 0 ? next.length : at, 0, { place, count: 1 });
  }
  return next;
}

/** Beats from the span's first bar line to a place; the lead-in counts to the first, the landing to the last. */
function placeOf(plan: Plan, { from, to }: PassBody, beat: number): number {
  const n = plan.bars.length;
  let place = from;
  let end = plan.bars[from % n]?.beats ?? 0;
  while (place < to && beat >= end) end += plan.bars[++place % n]?.beats ?? 0;
  return n === 0 ? place : place % n;
}
