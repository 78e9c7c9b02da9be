/**
 * What a chart is: the marks a player puts on the page, and the plan that is drilled.
 * Pure data. Words are those of the project's glossary (DEVELOPERS.md).
 */

/**
 * A rectangle in fractions (0–1) of a page's crop box, after the page's own rotation,
 * origin top left: [x0, y0, x1, y1]. Zoom, window and screen never enter.
 */
export type PageBox = readonly [x0: number, y0: number, x1: number, y1: number];

export type BarId = string;
export type SystemId = string;

/** A time signature as printed: 6/8 is {beats: 6, value: 8}; cut time is {beats: 2, value: 2}. */
export interface Meter {
  readonly beats: number;
  /** The note value that gets one printed beat, as a fraction of a whole note: 1, 2, 4, 8 or 16. */
  readonly value: number;
}

/** The note that the tempo counts: bpm, beats of a bar and count-in all count this unit. */
export type BeatUnit =
  'sixteenth' | 'eighth' | 'dotted-eighth' | 'quarter' | 'dotted-quarter' | 'half' | 'dotted-half';

/**
 * A jump back from a bar's right bar line: da capo (to the beginning) or dal segno (to the segno), then
 * to the end, to the Fine or to the coda.
 */
export type Jump = 'dc' | 'dc-al-fine' | 'dc-al-coda' | 'ds' | 'ds-al-fine' | 'ds-al-coda';

/** When a section sounds that is not part of every chorus: an intro, a tag, one that is left out. */
export type SectionWhen = 'first-chorus' | 'last-chorus' | 'never';

/**
 * One written bar on one page, from bar line to bar line. Its height is its system's.
 * Absent attributes mean "no".
 */
export interface Bar {
  readonly id: BarId;
  /** Left and right bar line, fractions of the page's width, x0 < x1. */
  readonly x0: number;
  readonly x1: number;
  /** The time signature changes here. */
  readonly meter?: Meter;
  /** The beat unit changes here (otherwise it follows the meter, see `unitOf`). */
  readonly unit?: BeatUnit;
  /** A section starts here; its name as the player says it ("A", "B", "Intro"). */
  readonly section?: string;
  /** This box is the pickup: it holds so many beats, is never a step, and leads in the next bar. */
  readonly pickup?: number;
  /** Beats before this bar's first bar line that belong to a span starting here (0 < leadIn < bar). */
  readonly leadIn?: number;
  /** Nothing is struck in this bar. */
  readonly silent?: true;
  /** A note is tied over this bar's right bar line. */
  readonly tied?: true;
  readonly repeatStart?: true;
  /** A repeat ends at this bar's right bar line; how many times the passage sounds in all (usually 2). */
  readonly repeatEnd?: number;
  /** Numbers of the ending bracket over this bar, e.g. [1] or [2]. */
  readonly ending?: readonly number[];
  /** A segno stands at this bar's left bar line: where a D.S. leads. */
  readonly segno?: true;
  /** The coda begins at this bar's left bar line. */
  readonly coda?: true;
  /** "To coda" at this bar's right bar line: from here to the coda, on the way that a jump has begun. */
  readonly toCoda?: true;
  /** "Fine" at this bar's right bar line. */
  readonly fine?: true;
  /** D.C. or D.S. at this bar's right bar line. */
  readonly jump?: Jump;
  /**
   * This box is a multi-bar rest of so many bars (2 or more). It is one written bar, and stands for so many
   * silent places of a plan's route; the bars after it are numbered accordingly.
   */
  readonly restBars?: number;
  /** When the section that starts here sounds; absent in every chorus. Only beside `section`. */
  readonly when?: SectionWhen;
  /** Second part of a bar broken over two lines: belongs to the bar before it and counts once. */
  readonly continues?: true;
  /** This bar holds the same music as that one. */
  readonly as?: BarId;
  /** The bars this one was split or joined from. */
  readonly was?: readonly BarId[];
  /**
   * How sure the finder was of this bar, 0–1, for as long as only the finder has seen it: absent as soon as
   * the player has changed it or said that it is right.
   */
  readonly found?: number;
}

/** One line of music on one page. Bars are in order, left to right, without overlap. */
export interface System {
  readonly id: SystemId;
  /** Page of the document, from 0. */
  readonly page: number;
  /** Top line of the top staff and bottom line of the bottom staff, fractions of the page's height. */
  readonly top: number;
  readonly bottom: number;
  /**
   * On a page that lies askew, as far as that was seen: how much lower its right end lies than its left, a fraction of
   * the page's height, negative where it is higher. So much less high than from top to bottom are its staves. Absent
   * where it lies straight and where the player has set top and bottom.
   */
  readonly lean?: number;
  readonly bars: readonly Bar[];
}

/**
 * How signs are read where pages and players differ: each can be switched for a chart. Defaults and their
 * sources are in `conventions.ts`.
 */
export interface Conventions {
  /** After D.C. or D.S., music that has been played already is played with its repeats again. */
  readonly repeatsAfterJump: boolean;
  /** The ending that is played after D.C. or D.S. where the repeat is not taken. */
  readonly endingAfterJump: 'last' | 'first';
  /** A D.C. or D.S. inside a repeat waits for the last time; otherwise it is taken the first time. */
  readonly jumpAfterRepeats: boolean;
  /** Fine ends the tune although no jump has been taken. */
  readonly fineAtOnce: boolean;
  /** "To coda" leads to the coda although no jump has been taken. */
  readonly codaAtOnce: boolean;
  /** With several choruses the coda waits for the last one. */
  readonly codaLastChorus: boolean;
}

/** Written bars in a row, both ends included, as reading order has them. */
export interface Stretch {
  readonly from: BarId;
  readonly to: BarId;
}

/** Clockwise degrees. */
export type Turn = 0 | 90 | 180 | 270;

/** How far the pages of a file are turned after their own rotation. */
export interface Turns {
  /** Pages, from 0, that are turned otherwise than the others. */
  readonly pages: Readonly<Record<number, Turn>>;
  /** Every other page. */
  readonly rest: Turn;
}

/** Everything the player has set on the pages of a chart: one versioned value. */
export interface Marks {
  /**
   * 2 where anything is said that version 1 has no word for (jumps, multi-bar rests, when a section sounds,
   * choruses, conventions, an order by hand), otherwise 1; `withVersion` sets it. A version 1 value is a
   * version 2 value but for the number, and stays as it was kept. 3 where all pages are turned, 4 where some are
   * turned otherwise than the others, 5 where bars are told apart, 6 where a line is seen to lie askew.
   */
  readonly version: 1 | 2 | 3 | 4 | 5 | 6;
  /** In reading order. */
  readonly systems: readonly System[];
  /** The meter at the start. */
  readonly meter: Meter;
  /** The beat unit at the start; null follows the meter's convention. */
  readonly unit: BeatUnit | null;
  /** How many times the whole form sounds in a row; absent once. */
  readonly choruses?: number;
  /** Conventions that this chart does not share with the usual ones. */
  readonly conventions?: Partial<Conventions>;
  /** The route as the player has put it right: these stretches in order, whatever the signs say. */
  readonly byHand?: readonly Stretch[];
  /** Bars that the player has told apart: each with the earlier one that it looked like. */
  readonly unlike?: readonly (readonly [bar: BarId, like: BarId])[];
  /** The pages are turned so far after their own rotation, and boxes are fractions of the turned page. */
  readonly turn?: Exclude<Turn, 0>;
  /** These pages, from 0, are turned so far instead. */
  readonly turns?: Turns['pages'];
}

/** A box on a page together with its reach: the area that is lit, cut out and compared. */
export interface PlacedBox {
  readonly page: number;
  readonly box: PageBox;
  /** The box extended half the way to the neighbouring systems, at most 1.2 staff heights above. */
  readonly reach: PageBox;
  /** How much lower its whole line lies at the right than at the left, see `System`. */
  readonly lean?: number;
}

/** One place of the route: a written bar in the order it sounds. */
export interface RouteBar {
  readonly bar: BarId;
  /** Where it stands on the page; two boxes when it is broken over two lines. */
  readonly boxes: readonly PlacedBox[];
  /** Number of the written bar, counted from 1 at the first full bar. */
  readonly number: number;
  /** First place of the route that holds the same music (its own place when none does). */
  readonly twin: number;
  /** Index into the plan's sections. */
  readonly section: number;
  readonly meter: Meter;
  readonly unit: BeatUnit;
  /** Length in beats of `unit`; a fraction where the unit does not divide the bar. */
  readonly beats: number;
  readonly silent: boolean;
  /** A note is tied over the right bar line. */
  readonly tied: boolean;
  /** Beats before its first bar line that belong to a span starting here. */
  readonly leadIn: number;
}

/** A stretch of the route, `to` included, places from 0. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

export interface Section extends Span {
  readonly name: string;
}

/** The notes before bar 1: lit and played with any span that starts at place 0. */
export interface Pickup {
  readonly bar: BarId;
  readonly boxes: readonly PlacedBox[];
  readonly beats: number;
}

/** Every number of the ladder, adjustable per chart. */
export interface Numbers {
  /** Clean passes in a row for bars and chains. */
  readonly streak: number;
  /** The same for joins of sections. */
  readonly joinStreak: number;
  /** Tempi in bpm of the first bar's unit. */
  readonly start: number;
  readonly step: number;
  readonly goal: number;
  /** Above this tempo the step doubles; null never. */
  readonly doubleStepAbove: number | null;
  /** Sections longer than this are split; null leaves the marked sections as they are. */
  readonly sectionLength: number | null;
  readonly joining: 'one-by-one' | 'pairs';
  /** Each different seam is a step of its own before sections are joined. */
  readonly seams: boolean;
  /** A section that differs from its twin in some bars needs only those bars and one chain. */
  readonly differing: boolean;
  /** Steps whose music has already been listed in the rung are left out. */
  readonly twins: boolean;
  /** Silent bars have no step alone. */
  readonly silence: boolean;
  /** Bars that get no step alone and no chain of their own (by id). */
  readonly skipped: readonly BarId[];
  /** Tempi whose rung is to be climbed twice. */
  readonly repeatedRungs: readonly number[];
}

/** The ladder as it stood when a pass was played: what a plan event holds. */
export interface Plan {
  readonly version: 1;
  /** The route. */
  readonly bars: readonly RouteBar[];
  /** Sections of the route, in order, covering it without gaps. */
  readonly sections: readonly Section[];
  readonly pickup: Pickup | null;
  readonly numbers: Numbers;
}
