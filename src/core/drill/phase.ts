import type { Span } from '../chart/types.ts';

/**
 * Why the drill stopped without being asked: the browser suspended the sound (or the operating
 * system interrupted it), the page was hidden, the output device went away or its clock stood
 * still, no output ever started, the context was closed, another stand writes this chart now, or an event could not be kept.
 */
export type StopReason = 'suspended' | 'hidden' | 'device' | 'silent' | 'closed' | 'elsewhere' | 'not-kept';

/**
 * Where the sitting is.
 * - idle: nothing has been begun, or the span was changed while paused
 * - count-in: the clicks before the span are sounding (the gap's silent bars included)
 * - playing: between the span's first and last bar line
 * - gap: the pass is over and the next one is not ordered yet (its verdict is being kept)
 * - asking: one at a time, the pass is over and wants its verdict
 * - waiting: rolling, at the Nth place, the rope wants one press
 * - paused: by the player
 * - wall: stopped on an unfinished step, see WallOffer
 * - rest: enough for now, until asked
 * - stopped: by the machine, see StopReason
 * - finished: the goal has been reached (or there is no plan)
 */
export type Phase =
  | 'idle'
  | 'count-in'
  | 'playing'
  | 'gap'
  | 'asking'
  | 'waiting'
  | 'paused'
  | 'wall'
  | 'rest'
  | 'stopped'
  | 'finished';

/** What the wall offers; null or false where it cannot be offered. */
export interface WallOffer {
  /** The place of the route where most passes broke, when any slip was placed. */
  readonly breaksAt: number | null;
  /** A slower tempo, bpm. */
  readonly slower: number | null;
  /** Half of the span, the half that breaks more. */
  readonly half: Span | null;
  /** False when this is the only step left in the rung. */
  readonly leaveOpen: boolean;
}

export type WallChoice = 'slower' | 'half' | 'leave-open' | 'go-on';

/** The quiet sign: what has just been done. */
export type Sign = 'step' | 'rung' | 'goal';
