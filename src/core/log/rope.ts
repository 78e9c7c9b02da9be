/**
 * The rules of an honest streak, on one step: what each verdict does to the rope. A fold of a million
 * passes has no time to copy: every function here changes the streak it is given, which its fold owns.
 */
import type { Span } from '../chart/types.ts';
import type { EventId, Judge } from './events.ts';
import type { Knot, StepTally } from './state.ts';

/** A pause this long loosens the knots that are kept; a night is longer. */
export const PAUSE_MS = 10 * 60_000;

type Writable<T> = { -readonly [Key in keyof T]: T[Key] };

/** One step being worked on, with its rope. Plain JSON. */
export interface Streak extends Span {
  readonly bpm: number;
  /** Set by hand: not taken off the player when the ladder already holds it as done. */
  chosen: boolean;
  knots: Knot[];
  voidSpent: boolean;
  cold: boolean;
  /** End of the last pass before or on this step, ms since 1970; null before the first ever. */
  touched: number | null;
  /** The sitting of the last pass on it. */
  sitting: string | null;
  readonly tally: Writable<StepTally>;
}

export function newStreak(span: Span, bpm: number, chosen: boolean, touched: number | null): Streak {
  return {
    from: span.from,
    to: span.to,
    bpm,
    chosen,
    knots: [],
    voidSpent: false,
    cold: false,
    touched,
    sitting: null,
    tally: { passes: 0, slips: 0, minutes: 0, breaks: [] },
  };
}

/** A streak of its own, for another fold to change. */
export function copyOf(streak: Streak): Streak {
  return { ...streak, knots: [...streak.knots], tally: { ...streak.tally } };
}

function count(knots: readonly Knot[], tie: Knot['tie']): number {
  let n = 0;
  for (const knot of knots) if (knot.tie === tie) n++;
  return n;
}

/** Tight knots: what counts towards N. */
export const tightOf = (streak: { readonly knots: readonly Knot[] }): number => count(streak.knots, 'tight');
export const looseOf = (streak: { readonly knots: readonly Knot[] }): number => count(streak.knots, 'loose');

/** Knots are replaced, never changed: earlier states show them still. */
function retie(streak: Streak, change: (knot: Knot) => Knot): void {
  for (let i = 0; i < streak.knots.length; i++) streak.knots[i] = change(streak.knots[i]!);
}
const tighten = (knot: Knot): Knot =>
  knot.tie === 'loose' ? { pass: knot.pass, tie: 'tight', vouched: true } : knot;
const tightenVouched = (knot: Knot): Knot => (knot.vouched ? tighten(knot) : knot);
const loosen = (knot: Knot): Knot => (knot.tie === 'tight' ? { ...knot, tie: 'loose' } : knot);
/** Cold knots are vouched for but wait for the cold pass. */
const answer = (knot: Knot): Knot => (knot.tie === 'loose' ? { ...knot, vouched: true } : knot);

/** What a new sitting finds: loose knots nobody has vouched for are gone. */
export function leave(streak: Streak): void {
  streak.knots = streak.knots.filter((knot) => knot.tie !== 'loose' || knot.vouched);
  // A rope of gaps alone is an empty rope, and a new streak has its void again.
  if (!streak.knots.some((knot) => knot.tie !== 'gap')) {
    streak.knots = [];
    streak.voidSpent = false;
  }
}

/** Whether at `now` (ms) a pause has made the next pass a cold one. */
export const pausedAt = (streak: Streak, now: number): boolean =>
  streak.touched !== null && now - streak.touched >= PAUSE_MS;

/** After a pause the kept knots are loose, and the next pass is a cold one. */
export function cool(streak: Streak): void {
  retie(streak, loosen);
  streak.cold = true;
}

/** Before anything of a sitting touches the rope; `now` in ms. */
export function enter(streak: Streak, sitting: string, now: number): void {
  if (streak.sitting !== null && streak.sitting !== sitting) leave(streak);
  if (pausedAt(streak, now)) cool(streak);
}

/** A clean pass: a knot, unless all N places are taken and wait for a press. */
export function clean(streak: Streak, pass: EventId, by: Judge, places: number): void {
  const someone = by !== 'nobody';
  // A press answers for every loose knot; the ear heard this pass alone, and on a cold one that
  // the knots that were kept still hold.
  if (someone && by !== 'ear') retie(streak, tighten);
  else if (someone && streak.cold) retie(streak, tightenVouched);
  if (tightOf(streak) + looseOf(streak) < places)
    streak.knots.push({ pass, tie: someone ? 'tight' : 'loose', vouched: someone });
  streak.cold = false;
}

/** The rope runs out; the step stays. */
export function slip(streak: Streak): void {
  streak.knots = [];
  streak.voidSpent = false;
  streak.cold = false;
}

/** A pass broken off: the streak stands over a gap. False when it is a slip, the one void being spent. */
export function broken(streak: Streak, pass: EventId, by: 'player' | 'machine'): boolean {
  if (streak.knots.length === 0) return true;
  if (by === 'player' && streak.voidSpent) return false;
  streak.voidSpent ||= by === 'player';
  if (streak.knots.at(-1)?.tie !== 'gap') streak.knots.push({ pass, tie: 'gap', vouched: false });
  return true;
}

/** One press answers for the passes named, and clean for all loose knots. */
export function vouch(streak: Streak, passes: readonly EventId[], verdict: 'clean' | 'slip'): void {
  if (passes.length > 0 && !streak.knots.some((knot) => passes.includes(knot.pass))) return;
  if (verdict === 'slip') {
    slip(streak);
    streak.tally.slips++;
  } else retie(streak, streak.cold ? answer : tighten);
}
