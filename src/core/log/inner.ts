import type { ChartKey, DoneRoute, EventId } from './events.ts';
import type { Streak } from './rope.ts';
import type { ChartState } from './state.ts';

/** Where a branch of the log ended, for a concurrent writer who goes on from there. */
export interface BranchPoint {
  readonly tip: EventId;
  readonly live: Streak | null;
}

/**
 * What a fold has to remember beyond what screens see. Plain JSON of bounded size, whatever the length
 * of the log. Only the top level is ever assigned to; everything below is replaced,
 * never mutated, but for the live streak, which the fold owns.
 */
export interface Inner {
  chart: ChartKey;
  document: string | null;
  name: string;
  /** Highest sequence of an opened and of a removed event, -1 for none: the later one decides. */
  openedSeq: number;
  removedSeq: number;
  addedAt: ChartState['addedAt'];
  words: string;
  archived: boolean;
  sets: ChartState['sets'];
  carried: ChartState['carried'];
  joined: ChartState['joined'];
  marks: ChartState['marks'];
  forks: readonly EventId[];
  plan: ChartState['plan'];
  /** Index of the current rung; the number of rungs when all are climbed. */
  rung: number;
  /** Index of the ladder's current or last step in its rung. */
  place: number;
  /** Per rung the indices of the steps done. */
  done: readonly (readonly number[])[];
  /** Indices of this rung's steps that were skipped or left open. */
  left: readonly number[];
  /** Steps done under earlier plans, or on a chart that was joined, that the present plan does not list. */
  earlier: readonly DoneRoute[];
  live: Streak | null;
  /** Streaks of steps that were left by hand: coming back finds them as they were. */
  aside: readonly Streak[];
  /** The event that the showing branch goes on from. */
  tip: EventId | null;
  points: readonly BranchPoint[];
  passes: number;
  /** End of the last pass, ms since 1970. */
  active: number | null;
  lastPass: ChartState['lastPass'];
  firstPassAt: string | null;
  last: ChartState['last'];
  /** Lowest sequence of the last sitting: what it sorts by. */
  lastLow: number;
  /** Highest sequence in the log; a writer goes on from it. */
  highest: number;
  undo: ChartState['undo'];
}

export function newInner(chart: ChartKey): Inner {
  return {
    chart,
    document: null,
    name: '',
    openedSeq: -1,
    removedSeq: -1,
    addedAt: null,
    words: '',
    archived: false,
    sets: [],
    carried: null,
    joined: [],
    marks: null,
    forks: [],
    plan: null,
    rung: 0,
    place: 0,
    done: [],
    left: [],
    earlier: [],
    live: null,
    aside: [],
    tip: null,
    points: [],
    passes: 0,
    active: null,
    lastPass: null,
    firstPassAt: null,
    last: null,
    lastLow: 0,
    highest: -1,
    undo: null,
  };
}
