import type { Marks, Plan, Span } from '../chart/types.ts';
import type { ChartKey, EventId, JoinedBody, PassKind } from './events.ts';

/** One place of the streak's rope that has a pass on it. */
export interface Knot {
  readonly pass: EventId;
  /** loose: nobody has vouched for it, or a pause has loosened it; gap: a void pass of this streak. */
  readonly tie: 'tight' | 'loose' | 'gap';
  /** Whether somebody has ever vouched for it. A new sitting drops those nobody has. */
  readonly vouched: boolean;
}

/** The step that is being worked on. */
export interface CurrentStep extends Span {
  readonly bpm: number;
  readonly streak: number;
  readonly kind: 'alone' | 'chain' | 'differing' | 'seam' | 'join' | 'chosen';
  /** Place among the rung's steps, from 0; -1 for a span outside the ladder (chosen by hand). */
  readonly index: number;
}

/** How the current step has gone since it began; what the wall is judged by. */
export interface StepTally {
  readonly passes: number;
  readonly slips: number;
  /** Minutes of passes and gaps spent on it. */
  readonly minutes: number;
  /** Slips by place of the route, for "where it breaks". */
  readonly breaks: readonly { readonly place: number; readonly count: number }[];
}

/** Where a chart stands: the fold of its log. */
export interface ChartState {
  readonly chart: ChartKey;
  readonly document: string | null;
  readonly name: string;
  readonly removed: boolean;
  /** When it first entered the shelf, UTC; null where that is not in the log. */
  readonly addedAt: string | null;
  /** The player's own words about it. */
  readonly words: string;
  readonly archived: boolean;
  /** The sets it stands in, with its rank in each; in the order in which it came into them. */
  readonly sets: readonly { readonly set: string; readonly rank: number }[];
  /** What was decided about the edition before this one; null: nothing yet. */
  readonly carried: { readonly of: ChartKey; readonly what: 'marks' | 'nothing' } | null;
  /** Charts of the same lines about which it was decided, each once. */
  readonly joined: readonly Pick<JoinedBody, 'with' | 'as' | 'passes'>[];
  readonly marks: { readonly event: EventId; readonly marks: Marks } | null;
  /** Other saves of the marks that were made from the same parent and do not show. */
  readonly forks: readonly EventId[];
  readonly plan: { readonly event: EventId; readonly plan: Plan } | null;
  /** null: no plan yet, or the goal has been reached. */
  readonly step: CurrentStep | null;
  /** The whole ladder has been climbed. */
  readonly finished: boolean;
  /** Rungs of the plan with the share of their steps done. */
  readonly rungs: readonly { readonly bpm: number; readonly done: number; readonly steps: number }[];
  /** Steps of the current rung that were left open. */
  readonly open: readonly Span[];
  readonly knots: readonly Knot[];
  /** The player's one void of this streak has been spent. */
  readonly voidSpent: boolean;
  /** The next pass is a cold one: the knots wait for it. */
  readonly cold: boolean;
  readonly tally: StepTally;
  /** Passes counted, trials and voids left out. */
  readonly passes: number;
  readonly lastPass: { readonly event: EventId; readonly at: string; readonly kind: PassKind } | null;
  /** First pass ever, UTC; the first week rests earlier. */
  readonly firstPassAt: string | null;
  /** Id, sequence and sitting of the last event in log order. */
  readonly last: {
    readonly id: EventId;
    readonly seq: number;
    readonly sitting: string;
    readonly place: number;
  } | null;
  /** The event that undo would take back, and what it was. */
  readonly undo: { readonly event: EventId; readonly type: 'pass' | 'vouched' | 'step' | 'tempo' } | null;
}
