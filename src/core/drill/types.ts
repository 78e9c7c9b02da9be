import type { Judge, PassKind } from '../log/events.ts';
import type { Span } from '../chart/types.ts';

/** How the player wants to be taken through a step. */
export interface DrillSettings {
  readonly mode: 'rolling' | 'one-at-a-time';
  /** Count-in: whole bars, or the last beats of one. */
  readonly countIn: { readonly bars: 1 | 2 } | { readonly beats: number };
  /** Bars between passes (never under 3 s), or as long as the pass was. */
  readonly gap: number | 'as-long';
  /** From this tempo the click goes in half notes; null never. */
  readonly halvesFrom: number | null;
}

/** A pass laid out on the audio clock: everything the sound and the light need. */
export interface PassOrder extends Span {
  /** Its own id: the sound, the light and the record speak of the pass by it. */
  readonly id: string;
  readonly bpm: number;
  readonly kind: PassKind;
  /** Audio-clock seconds of the gap's first bar line (the landing of the pass before). */
  readonly gapAt: number;
  /** Audio-clock seconds of the first count-in click, of the span's first and of its last bar line. */
  readonly countInAt: number;
  readonly startAt: number;
  readonly endAt: number;
}

export type Answer = { readonly verdict: 'clean' | 'slip'; readonly by: Judge };
