/**
 * The rules of an honest streak, on one step: what each verdict does to the rope.
 * Every function returns new and does not mutate.
 */
import type { Knot, StepTally } from './state.ts';
import type { EventId, Judge } from './events.ts';
import type { Span } from '../chart/types.ts';

/** A pause this long loosens the knots that are kept; a night is longer. */
export const PAUSE_MS = 10 * 60_000;

/** One step being worked on, with its rope. */
export interface Streak extends Span {
  readonly bpm: number;
  /** Set by hand: not taken off the player when the ladder already holds it as done. */
  readonly chosen: boolean;
  readonly knots: readonly Knot[];
  readonly voidSpent: boolean;
  readonly cold: boolean;
  /** End of the last pass before or on this step, ms since 1970; null before the first ever. */
  readonly touched: number | null;
  /** The sitting of the last pass on it. */
  readonly sitting: string | null;
  readonly tally: StepTally;
}

export const NO_TALLY: StepTally = { passes: 0, slips: 0, minutes: 0, breaks: [] };

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
    tally: NO_TALLY,
  };
}

function count(knots: readonly Knot[], tie: Knot['tie']): number {
  let n = 0;
  for (const knot of knots) if (knot.tie === tie) n++;
  return n;
}

/** Tight knots: what counts towards N. */
export const tightOf = (streak: { readonly knots: readonly Knot[] }): number => count(streak.knots, 'tight');
export const looseOf = (streak: { readonly knots: readonly Knot[] }): number => count(streak.knots, 'loose');

/** A rope of gaps alone is an empty rope, and a new streak has its void again. */
function withKnots(streak: Streak, knots: readonly Knot[]): Streak {
  if (knots.some((knot) => knot.tie !== 'gap')) return { ...streak, knots };
  return { ...streak, knots: [], voidSpent: false };
}

/** What a new sitting finds: loose knots nobody has vouched for are gone. */
export function leave(streak: Streak): Streak {
  const kept = streak.knots.filter((knot) => knot.tie !== 'loose' || knot.vouched);
  return kept.length === streak.knots.length ? streak : withKnots(streak, kept);
}

/** After a pause the kept knots are loose, and the next pass is a cold one. `now` in ms. */
export function cool(streak: Streak, now: number): Streak {
  if (streak.touched === null || now - streak.touched < PAUSE_MS) return streak;
  const knots = streak.knots.map((k): Knot => (k.tie === 'tight' ? { ...k, tie: 'loose' } : k));
  return { ...streak, knots, cold: true };
}

/** Before anything of a sitting touches the rope. */
export function enter(streak: Streak, sitting: string, now: number): Streak {
  const here = streak.sitting === null || streak.sitting === sitting ? streak : leave(streak);
  return cool(here, now);
}

function tighten(knot: Knot): Knot {
  return knot.tie === 'loose' ? { ...knot, tie: 'tight', vouched: true } : knot;
}

/** A clean pass: a knot, unless all N places are taken and wait for a press. */
export function clean(streak: Streak, pass: EventId, by: Judge, places: number): Streak {
  const someone = by !== 'nobody';
  // A press answers for every loose knot; the ear heard this pass alone, and on a cold one that
  // the knots that were kept still hold.
  const pressed = someone && by !== 'ear';
  let knots = streak.knots;
  if (pressed && count(knots, 'loose') > 0) knots = knots.map(tighten);
  else if (someone && streak.cold) knots = knots.map((knot) => (knot.vouched ? tighten(knot) : knot));
  if (count(knots, 'tight') + count(knots, 'loose') < places)
    knots = [...knots, { pass, tie: someone ? 'tight' : 'loose', vouched: someone }];
  return { ...streak, knots, cold: false };
}

/** The rope runs out; the step stays. */
export function slip(streak: Streak): Streak {
  return { ...streak, knots: [], voidSpent: false, cold: false };
}

/** A pass broken off: the streak stands over a gap. Null when it is a slip, the one void being spent. */
export function broken(streak: Streak, pass: EventId, by: 'player' | 'machine'): Streak | null {
  if (streak.knots.length === 0) return streak;
  if (by === 'player' && streak.voidSpent) return null;
  const voidSpent = streak.voidSpent || by === 'player';
  if (streak.knots.at(-1)?.tie === 'gap') return { ...streak, voidSpent };
  return { ...streak, voidSpent, knots: [...streak.knots, { pass, tie: 'gap', vouched: false }] };
}

/** One press answers for the passes named, and clean for all loose knots. */
export function vouch(streak: Streak, passes: readonly EventId[], verdict: 'clean' | 'slip'): Streak {
  const named = passes.length === 0 || streak.knots.some((knot) => passes.includes(knot.pass));
  if (!named) return streak;
  if (verdict === 'slip')
    return { ...slip(streak), tally: { ...streak.tally, slips: streak.tally.slips + 1 } };
  // Cold knots are vouched for but wait for the cold pass.
  const answer = (knot: Knot): Knot => (knot.tie === 'loose' ? { ...knot, vouched: true } : knot);
  return { ...streak, knots: streak.knots.map(streak.cold ? answer : tighten) };
}
