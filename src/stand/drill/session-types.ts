import type { ReadonlySignal } from '@preact/signals';
import type { Timeline } from '../../core/beat/types.ts';
import type { Phase, Sign, StopReason, WallChoice, WallOffer } from '../../core/drill/phase.ts';
import type { PassOrder } from '../../core/drill/types.ts';
import type { Judge } from '../../core/log/events.ts';

/** What the drill's screen shows, besides the chart's own state (knots, step: `context.state`). */
export interface DrillView {
  readonly phase: Phase;
  /** The pass that is being counted in or played, else the last one; null before the first. */
  readonly order: PassOrder | null;
  /** Of `order`, seconds from its first count-in click (`order.countInAt`). */
  readonly timeline: Timeline | null;
  /** The drill waits for a press: one at a time after a pass, rolling at the Nth place. */
  readonly waiting: boolean;
  /** The next or sounding pass is a cold one. */
  readonly cold: boolean;
  /** The next or sounding pass is a trial and does not count. */
  readonly trial: boolean;
  readonly wall: WallOffer | null;
  /** Why the drill stopped by itself; null while it runs or after a pause. */
  readonly stopped: StopReason | null;
  /** The quiet sign, from the moment a step is done until the next pass's first beat. */
  readonly sign: Sign | null;
  /** Sounding minutes of this sitting, whole numbers. */
  readonly minutes: number;
  /** Sounding minutes until the drill rests, whole numbers, at least 0. */
  readonly restIn: number;
  /** An event is on its way to the disk: its effect is not shown yet. */
  readonly keeping: boolean;
  /** The wake lock was refused or taken away: the screen may go dark. */
  readonly wakeLockLost: boolean;
}

/** What sounds at this moment in the player's ears. */
export interface Heard {
  readonly order: PassOrder;
  readonly timeline: Timeline;
  /** Bar of the span from 0; negative before it (-1 the last bar of the count-in); the span's number of bars on landing. */
  readonly bar: number;
  /** Beat of the bar from 0, and how far it has gone by, 0 to 1. */
  readonly beat: number;
  readonly phase: number;
  /** Beats of `bar` in its unit; a fraction where the unit does not divide it. */
  readonly beats: number;
  /** Clicks left until the span's first beat, this one included; 0 from then on, null while the gap is silent. */
  readonly countdown: number | null;
  readonly landing: boolean;
}

/** One sitting at the stand. Every method may be called at any time; what does not apply is ignored. */
export interface Session {
  readonly view: ReadonlySignal<DrillView>;
  /** Starts, or goes on after a pause, a stop, a rest. Call it in a user gesture (sound needs one). */
  begin(): Promise<void>;
  answer(verdict: 'clean' | 'slip', by: Judge): void;
  pause(): void;
  /** Takes the last verdict (or step, tempo) back. */
  undo(): void;
  /** The next pass does not count; again: it does. */
  trial(): void;
  /** The current step again from an empty rope. */
  repeat(): void;
  skip(): void;
  back(): void;
  /** Changes the tempo by hand, bpm from 20 to 400. */
  tempo(bpm: number): void;
  choose(choice: WallChoice): void;
  /** What is heard now, or `ahead` seconds from now; null when nothing sounds. Cheap: call it every animation frame. */
  heard(ahead?: number): Heard | null;
  dispose(): void;
}
