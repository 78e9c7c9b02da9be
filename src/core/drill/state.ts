import type { Timeline } from '../beat/types.ts';
import type { EventBody, EventId, PassKind } from '../log/events.ts';
import type { ChartState } from '../log/state.ts';
import type { Phase, Sign, StopReason, WallChoice, WallOffer } from './phase.ts';
import type { Answer, DrillSettings, PassOrder } from './types.ts';

/** A moment as the machine is told of it: three clocks, read together. */
export interface Moment {
  /** Audio-clock seconds where the next sample is rendered: what can still be scheduled lies after it. */
  readonly clock: number;
  /** Audio-clock seconds in the player's ears: passes begin and end by it. */
  readonly heard: number;
  /** Milliseconds that go on while the sound is stopped: what double presses are known by. */
  readonly ms: number;
}

/** A pass that is on the clock: its clicks have been handed to the sound. */
export interface Laid {
  readonly order: PassOrder;
  readonly timeline: Timeline;
  /** Length in units of the tempo. */
  readonly beats: number;
}

/** What the next gap counts from. */
export interface Gap {
  /** The bar line that opens it, audio-clock seconds. */
  readonly line: number;
  readonly passBeats: number;
  /** After a slip the count-in clicks from the line on, so that the beat never breaks. */
  readonly fill: boolean;
  /** False after a pause or a stop: the beat is gone, the next count-in need not keep to its lines. */
  readonly onLines: boolean;
}

/** The pass in whose gap we are. */
export interface LastPass {
  readonly kind: PassKind;
  readonly verdict: 'unanswered' | 'clean' | 'slip';
  /** Null until it has been kept. */
  readonly event: EventId | null;
}

/** Moves the sitting elsewhere on the ladder, or takes something back. */
export type Steering =
  | { readonly type: 'undo' | 'repeat' | 'skip' | 'back' }
  | { readonly type: 'tempo'; readonly bpm: number }
  | { readonly type: 'choose'; readonly choice: WallChoice };

export type Input =
  | Steering
  | { readonly type: 'begin'; readonly chart: ChartState }
  | { readonly type: 'tick' }
  | ({ readonly type: 'answer' } & Answer)
  | { readonly type: 'pause' | 'trial' }
  /** The oldest record that was under way has been kept. */
  | { readonly type: 'committed'; readonly chart: ChartState }
  /** The chart has been changed by something else. */
  | { readonly type: 'changed'; readonly chart: ChartState }
  | { readonly type: 'settings'; readonly settings: DrillSettings }
  | { readonly type: 'broke'; readonly reason: StopReason };

export type Effect =
  /** Put the whole pass on the clock, landing click included. */
  | { readonly type: 'schedule'; readonly order: PassOrder; readonly timeline: Timeline }
  /** Take back every click from this second of the audio clock on. */
  | { readonly type: 'cancel'; readonly from: number }
  /** Keep these together; answered by `committed`, or by `broke` with `not-kept`. */
  | { readonly type: 'record'; readonly bodies: readonly EventBody[] };

export interface DrillState {
  readonly settings: DrillSettings;
  /** In the first week the drill rests earlier. */
  readonly firstWeek: boolean;
  /** The chart as last kept: knots move by it alone. */
  readonly chart: ChartState;
  readonly run: 'idle' | 'running' | 'paused' | 'wall' | 'rest' | 'stopped' | 'finished';
  readonly phase: Phase;
  readonly stopped: StopReason | null;
  /** The pass that is on and the one after it. */
  readonly queue: readonly Laid[];
  /** The first beat of queue[0] has gone by. */
  readonly begun: boolean;
  /** Records under way, oldest first. */
  readonly pending: readonly (readonly EventBody[])[];
  /** Presses that need the chart as it will be once `pending` is kept. */
  readonly held: readonly (Steering | ({ readonly type: 'answer' } & Answer))[];
  readonly last: LastPass | null;
  readonly gap: Gap | null;
  readonly trial: boolean;
  /** `ms` of the last verdict press. */
  readonly pressedAt: number;
  /** Seconds that have sounded in this sitting, and how many of them by the last rest. */
  readonly sounded: number;
  readonly restedAt: number;
  readonly wall: WallOffer | null;
  /** What the tally was when the player chose to go on at the wall. */
  readonly wallFrom: { readonly passes: number; readonly minutes: number };
  readonly sign: Sign | null;
  /** Passes ordered so far; names the next. */
  readonly ordered: number;
}

/** One call of the machine: the state being worked on and what is to be done outside. */
export interface Turn {
  state: DrillState;
  readonly effects: Effect[];
  readonly now: Moment;
}

/** Works a change into the turn's state. */
export function set(turn: Turn, change: Partial<DrillState>): void {
  turn.state = { ...turn.state, ...change };
}
