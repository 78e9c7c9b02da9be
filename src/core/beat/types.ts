/** One click of a pass. Seconds count from the pass's first click. */
export interface Click {
  readonly at: number;
  /** First beat of a bar. */
  readonly accent: boolean;
  readonly countIn: boolean;
  /** Bar of the span from 0; negative in the gap before it (-1 is the last bar of the count-in). */
  readonly bar: number;
  /** Beat of the bar from 0. */
  readonly beat: number;
}

/** A bar in the timeline: seconds from the first click. */
export interface BarEdge {
  readonly from: number;
  readonly to: number;
  /** Beats, in the unit that the tempo counts. */
  readonly beats: number;
}

/** A whole pass in seconds. Every time is computed from its index, never by adding up. */
export interface Timeline {
  readonly clicks: readonly Click[];
  readonly bars: readonly BarEdge[];
  /** First bar line of the span. */
  readonly start: number;
  /** Last bar line of the span; the landing click sounds here and opens the next gap. */
  readonly end: number;
}
