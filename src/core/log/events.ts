import type { BeatUnit, Marks, Plan, RouteBar, Span } from '../chart/types.ts';

/** A chart's key: the document's SHA-256 (64 hex digits) or, for a part of a document, a random id. */
export type ChartKey = string;
export type EventId = string;

/** Who said so. */
export type Judge = 'key' | 'pedal' | 'touch' | 'midi' | 'knock' | 'ear' | 'nobody';
export type Verdict = 'clean' | 'slip' | 'unsure' | 'void';
export type PassKind = 'drill' | 'trial' | 'cold' | 'recall';

/** What every event carries. `seq` is one more than any sequence the writer had seen for the chart. */
export interface EventBase {
  readonly v: 1;
  readonly id: EventId;
  readonly chart: ChartKey;
  readonly sitting: string;
  /** Place in the sitting, from 0. */
  readonly place: number;
  readonly seq: number;
  /** The chart's last event the writer had seen; null for the first. */
  readonly after: EventId | null;
  /** UTC, ISO 8601 with milliseconds. */
  readonly at: string;
  /** IANA time zone of the writer. */
  readonly zone: string;
}

/** One play-through. Trials never count towards a streak. */
export interface PassBody extends Span {
  readonly type: 'pass';
  /** The plan event in force; `from` and `to` are places of its route. */
  readonly plan: EventId;
  readonly bpm: number;
  readonly unit: BeatUnit;
  /** Sounding length in seconds, count-in left out. */
  readonly seconds: number;
  readonly kind: PassKind;
  /** An unanswered pass is clean, said by nobody: a loose knot. */
  readonly verdict: Verdict;
  readonly by: Judge;
  /** Where it broke, beats from the span's first bar line; empty when not known. */
  readonly slips: readonly { readonly beat: number }[];
  /** For a void: whether the player broke it off (one a streak) or the machine did. */
  readonly brokenBy?: 'player' | 'machine';
}

/** Somebody answers for passes that nobody had answered for: clean tightens, slip lets the rope run out. */
export interface VouchedBody {
  readonly type: 'vouched';
  readonly passes: readonly EventId[];
  readonly verdict: 'clean' | 'slip';
  readonly by: Judge;
}

/** Takes one event back. Undoing an undone event brings its target back. */
export interface UndoneBody {
  readonly type: 'undone';
  readonly event: EventId;
}

/** The player (or the wall) moves to a step; none loses what was done. */
export interface StepBody extends Span {
  readonly type: 'step';
  readonly plan: EventId;
  readonly bpm: number;
  readonly why: 'skip' | 'back' | 'chosen' | 'left-open' | 'half' | 'repeat';
}

/** The player changes the tempo by hand. */
export interface TempoBody {
  readonly type: 'tempo';
  readonly bpm: number;
  readonly why: 'chosen' | 'slower';
}

export interface PlanBody {
  readonly type: 'plan';
  /** The marks event that the plan was made from. */
  readonly marks: EventId;
  readonly plan: Plan;
}

export interface MarksBody {
  readonly type: 'marks';
  /** The marks event these were edited from. */
  readonly parent: EventId | null;
  readonly marks: Marks;
}

/** The chart enters the shelf. */
export interface OpenedBody {
  readonly type: 'opened';
  /** SHA-256 of the document's bytes, hex. */
  readonly document: string;
  readonly name: string;
}

export interface NamedBody {
  readonly type: 'named';
  readonly name: string;
}

export interface RemovedBody {
  readonly type: 'removed';
}

/** The player's own words about the chart: notes, tags, whatever helps to find it again. */
export interface NotedBody {
  readonly type: 'noted';
  readonly words: string;
}

/** Put away into the archive, or taken out of it. */
export interface ArchivedBody {
  readonly type: 'archived';
  readonly away: boolean;
}

/**
 * The chart stands in a set, an ordered list for a gig, at this rank; null takes it out. A set is known by its
 * name, so that two machines that make the same one have one after a merge.
 */
export interface ListedBody {
  readonly type: 'listed';
  readonly set: string;
  readonly rank: number | null;
}

/** The chart is a new edition of another: its marks were carried over, or the two were left apart. */
export interface CarriedBody {
  readonly type: 'carried';
  /** The chart of the edition before. */
  readonly of: ChartKey;
  readonly what: 'marks' | 'nothing';
}

/** Steps done on one route; `nth`: which of the rungs at that tempo, from 0. */
export interface DoneRoute {
  readonly bars: readonly RouteBar[];
  readonly done: readonly (Span & { readonly bpm: number; readonly nth: number })[];
}

/**
 * Two charts hold the same lines of one file. This one `stays` and counts what was done on the other, or `goes` into
 * it and is seen no more, or the two were left `apart`.
 */
export interface JoinedBody {
  readonly type: 'joined';
  readonly with: ChartKey;
  readonly as: 'stays' | 'goes' | 'apart';
  /** Where it stays: passes counted on the other by then, and what they had done. */
  readonly passes: number;
  readonly done: readonly DoneRoute[];
}

export type EventBody =
  | PassBody
  | VouchedBody
  | UndoneBody
  | StepBody
  | TempoBody
  | PlanBody
  | MarksBody
  | OpenedBody
  | NamedBody
  | RemovedBody
  | NotedBody
  | ArchivedBody
  | ListedBody
  | CarriedBody
  | JoinedBody;

export type LogEvent = EventBase & EventBody;
