/** Where on the ladder: which step is next, moving by hand, a step done. All assign to `f`. */
import type { Plan, Span } from '../chart/types.ts';
import type { StepBody } from './events.ts';
import type { Inner } from './inner.ts';
import { findStep, indexOfSpan, ladderOf } from './ladder.ts';
import { copyOf, newStreak, tightOf, type Streak } from './rope.ts';

/** More streaks than this are not kept aside: the oldest is forgotten. */
const ASIDE = 8;

export const sameStep = (streak: Streak, span: Span, bpm: number): boolean =>
  streak.from === span.from && streak.to === span.to && streak.bpm === bpm;

/** Clean passes in a row that a span asks for: the step's own, or by whether it joins sections. */
export function streakOf(plan: Plan, span: Span): number {
  const ladder = ladderOf(plan);
  const step = ladder.steps[indexOfSpan(ladder, span)];
  if (step) return step.streak;
  const joins = plan.bars[span.from]?.section !== plan.bars[span.to]?.section;
  return joins ? plan.numbers.joinStreak : plan.numbers.streak;
}

function take(f: Inner, span: Span, bpm: number, chosen: boolean): void {
  const kept = f.aside.find((streak) => sameStep(streak, span, bpm));
  if (kept) f.aside = f.aside.filter((streak) => streak !== kept);
  f.live = kept ? { ...copyOf(kept), chosen } : newStreak(span, bpm, chosen, f.active);
}

function putAside(f: Inner): void {
  if (f.live && f.live.tally.passes > 0) f.aside = [...f.aside, f.live].slice(-ASIDE);
  f.live = null;
}

/** The next undone step from `from` on, around the rung; those left open come last; then the next rung. */
export function goOn(f: Inner, from: number): void {
  if (!f.plan) return;
  const { steps, rungs } = ladderOf(f.plan.plan);
  let start = from;
  for (; f.rung < rungs.length; f.rung++, start = 0, f.left = []) {
    if (f.done[f.rung]?.length === steps.length) continue;
    const done = new Set(f.done[f.rung]);
    let index: number | undefined;
    for (let i = 0; i < steps.length; i++) {
      const candidate = (start + i) % steps.length;
      if (done.has(candidate)) continue;
      index ??= candidate;
      if (f.left.includes(candidate)) continue;
      index = candidate;
      break;
    }
    if (index === undefined) continue;
    f.place = index;
    take(f, steps[index]!, rungs[f.rung]!, false);
    return;
  }
  f.live = null;
}

/** The step that shows must still be one to do, unless the player chose it. */
export function settle(f: Inner): void {
  if (!f.plan || f.live?.chosen) return;
  const ladder = ladderOf(f.plan.plan);
  const index = f.live && f.live.bpm === ladder.rungs[f.rung] ? indexOfSpan(ladder, f.live) : -1;
  if (index >= 0 && !f.done[f.rung]?.includes(index)) f.place = index;
  else goOn(f, f.place);
}

/** Moves to a span at a tempo; what was done and begun is kept. */
export function moveTo(f: Inner, span: Span, bpm: number, why: StepBody['why'] | 'slower'): void {
  if (!f.plan) return;
  const ladder = ladderOf(f.plan.plan);
  const leaving = why === 'skip' || why === 'left-open';
  // From a way around a wall it is the ladder's own step that is left.
  const undone = !f.done[f.rung]?.includes(f.place);
  if (leaving && f.live && undone && !f.left.includes(f.place)) f.left = [...f.left, f.place];
  const stays = f.live !== null && sameStep(f.live, span, bpm);
  if (stays && why === 'repeat') {
    // The same step again, from an empty rope.
    f.live = f.live && newStreak(span, bpm, f.live.chosen, f.live.touched);
    return;
  }
  if (stays && !leaving) return;
  putAside(f);
  if (stays && leaving) {
    goOn(f, f.place + 1);
    return;
  }
  const index = indexOfSpan(ladder, span);
  // Half a span or a slower tempo is a way around a wall: the ladder waits where it is.
  const onLadder = index >= 0 && ladder.rungs.includes(bpm) && why !== 'half' && why !== 'slower';
  if (onLadder) {
    if (ladder.rungs[f.rung] !== bpm) {
      f.rung = ladder.rungs.indexOf(bpm);
      f.left = [];
    }
    f.place = index;
    if (why !== 'skip' && why !== 'left-open') f.left = f.left.filter((i) => i !== index);
  }
  take(f, span, bpm, !onLadder || (f.done[f.rung]?.includes(index) ?? false));
}

/** Which rung a step done at this tempo counts for: the present one, else the first that lacks it. */
function rungFor(f: Inner, rungs: readonly number[], bpm: number, index: number): number {
  if (rungs[f.rung] === bpm) return f.rung;
  const lacking = rungs.findIndex((tempo, r) => tempo === bpm && !f.done[r]?.includes(index));
  return lacking >= 0 ? lacking : rungs.indexOf(bpm);
}

/** N tight knots: the step is done, and the ladder goes on. */
export function finishStep(f: Inner): void {
  while (f.plan && f.live && tightOf(f.live) >= streakOf(f.plan.plan, f.live)) {
    const streak: Streak = f.live;
    const { rungs } = ladderOf(f.plan.plan);
    const index = findStep(f.plan.plan, streak);
    const rung = index < 0 ? -1 : rungFor(f, rungs, streak.bpm, index);
    if (rung >= 0 && !f.done[rung]?.includes(index))
      f.done = rungs.map((_, r) => (r === rung ? [...(f.done[r] ?? []), index] : (f.done[r] ?? [])));
    if (rung === f.rung) f.left = f.left.filter((i) => i !== index);
    // Off the ladder the place has not moved, and is where to go on.
    goOn(f, rung === f.rung && index === f.place ? f.place + 1 : f.place);
  }
}
