/**
 * What finding takes and gives. Both ways of finding (from drawing operators, from pixels) end in
 * `SystemParts`; the stages after them are shared (`bars/`), and so is the result, a `FoundPage`.
 * Everything found carries `sure`: the chance, 0–1, that it is right.
 */
import type { Meter, PageBox } from '../chart/types.ts';

/** Kinds of bar line, as MusicXML's bar-style and repeat elements tell them apart. */
export type BarLineKind =
  'none' | 'single' | 'double' | 'final' | 'repeat-start' | 'repeat-end' | 'repeat-both';

// What is drawn on a page: the input of the engraved half. -------------------------------------------------

/**
 * A rectangle in page points: user units × UserUnit of the crop box after the page's own /Rotate, origin
 * top left: [x0, y0, x1, y1] with x0 ≤ x1, y0 ≤ y1.
 */
export type PointBox = readonly [x0: number, y0: number, x1: number, y1: number];

/** A straight stroke, or a filled shape so thin that it is one. Lengths in page points. */
export interface InkLine {
  readonly kind: 'line';
  /** Ends of its middle line; the round or square caps are not counted. */
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly thickness: number;
  /** Painted in a colour this light, 0 black – 1 white. */
  readonly light: number;
}

/** Any other path: filled or stroked outline of a head, a beam, a slur, a clef drawn without a font. */
export interface InkShape {
  readonly kind: 'shape';
  readonly box: PointBox;
  readonly filled: boolean;
  /** Names the outline apart from place and size: two with the same name look the same. */
  readonly outline: string;
  /** Outlines of it as closed polygons, flat x, y, x, y …, in page points; curves are cut into pieces. */
  readonly rings: readonly (readonly number[])[];
  readonly light: number;
}

/** A letter of a font: of words, or of a music font. */
export interface InkGlyph {
  readonly kind: 'glyph';
  /** Its ink where the outline is known, otherwise from its origin, advance and size. */
  readonly box: PointBox;
  /** Where it is set: the left end of its base line, page points. */
  readonly x: number;
  readonly y: number;
  /** Advance along the line and size of the font in page points; angle of the base line in degrees. */
  readonly advance: number;
  readonly size: number;
  readonly angle: number;
  /** The font's name without a subset's tag. */
  readonly font: string;
  readonly unicode: string;
  /** Name of the glyph in its font ("noteheads.s2", "barlineSingle"), empty when the file says none. */
  readonly name: string;
  /** As in InkShape; empty when the outline is not known. */
  readonly outline: string;
  /** As in InkShape. They may be worked out when asked for: whoever spreads a letter names them. */
  readonly rings: readonly (readonly number[])[];
  readonly light: number;
}

/** An image that is painted on the page: a scan when it covers most of it. */
export interface InkImage {
  readonly kind: 'image';
  readonly box: PointBox;
}

export type Ink = InkLine | InkShape | InkGlyph | InkImage;

/** A page as it is drawn, in the order of drawing. Width and height in page points. */
export interface PageInk {
  readonly width: number;
  readonly height: number;
  readonly ink: readonly Ink[];
}

// What both ways find first: the parts of a system, in one isotropic unit (page points, or pixels after
// straightening), origin top left. -------------------------------------------------------------------------

export interface StaffParts {
  readonly x0: number;
  readonly x1: number;
  /** Middles of the lines, top to bottom; five, or for a staff of a single line three: it and the ends of its bar lines. */
  readonly lines: readonly number[];
  /** Distance of two lines. */
  readonly space: number;
  readonly thickness: number;
}

/** An upright stroke through all of a system that may be a bar line or a part of one. */
export interface BarStroke {
  /** Left and right edge. */
  readonly x0: number;
  readonly x1: number;
  readonly dashed?: boolean;
  /** Its middle on each staff, where the staves were not aligned. */
  readonly own?: readonly number[];
  /** It is a bar line and no stem or anything else. */
  readonly sure: number;
}

/** A filled round spot in a space of a staff that may be half of a repeat's pair. */
export interface Dot {
  /** Its middle. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** An ending bracket over a system. */
export interface Bracket {
  readonly x0: number;
  readonly x1: number;
  readonly y: number;
  /** It has a hook down at this side. */
  readonly hookLeft: boolean;
  readonly hookRight: boolean;
  /** Empty when none is printed: a bracket that goes on from the line before. */
  readonly numbers: readonly number[];
  /** A number is printed that could not be read: the ending counts on from the one before. */
  readonly unread?: true;
  readonly sure: number;
}

/** Things between the bar lines that are no staff line and no bar line. */
export type ThingKind = 'head' | 'rest' | 'clef' | 'accidental' | 'time' | 'multi-rest' | 'slash' | 'other';

/** Anything that stands on or close to the staves and makes a bar one that holds something. */
export interface Thing {
  readonly kind: ThingKind;
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** One system before its bars are told apart. */
export interface SystemParts {
  readonly staves: readonly StaffParts[];
  readonly strokes: readonly BarStroke[];
  readonly dots: readonly Dot[];
  readonly brackets: readonly Bracket[];
  readonly things: readonly Thing[];
  /** A stroke of a bar line is a thick one from this width on; absent: from a usual share of a space on. */
  readonly thickFrom?: number;
  /** A vertical joins its staves, or it has only one. */
  readonly sure: number;
}

// What is found: boxes in fractions of the page, as in Marks. ----------------------------------------------

export interface FoundStaff {
  /** From the start of its lines to their end, from the top line to the bottom line. */
  readonly box: PageBox;
  /** Heights of its lines, fractions of the page's height, top to bottom. */
  readonly lines: readonly number[];
}

/** Something written in a bar, for comparing bars. Lengths in spaces of its staff. */
export interface ContentItem {
  /** What it is and looks like; items with other names are other music. */
  readonly name: string;
  /** Staff of the system that it belongs to, from 0. */
  readonly staff: number;
  /** From the bar's left edge, its left and right; from the top staff line down, its top and bottom. */
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
  /** Its height says nothing of the music: words, slurs, beams that lean. How far it may differ, in spaces. */
  readonly slack: number;
  /** It stands alone in its bar: where says nothing. */
  readonly anywhere?: true;
}

export interface BarContent {
  readonly items: readonly ContentItem[];
  /** Clef and key that hold in it: bars in other keys are no twins although they look the same. */
  readonly key: string;
  /** A tie or slur goes over its edge. */
  readonly over: readonly [left: boolean, right: boolean];
  /** In spaces. */
  readonly width: number;
  /** Its staves were not aligned: places on one say nothing of places on another. */
  readonly apart?: true;
}

/** A small grey picture as it is kept. Its pixels are a twelfth of a space. */
export interface PackedGrey {
  readonly width: number;
  readonly height: number;
  readonly text: string;
}

/** What stands on a staff. */
export interface StaffPicture extends PackedGrey {
  /** Rows above its top line. */
  readonly above: number;
}

/** A chord symbol, or any other word above the staves. */
export interface WordPicture extends PackedGrey {
  /** From the bar's first column, and from the top line of the first staff down to its foot, in sixths of a space. */
  readonly x: number;
  readonly foot: number;
}

/** A bar of a scan as it looks, between its bar lines. */
export interface BarPicture {
  readonly staves: readonly StaffPicture[];
  /** Left to right. */
  readonly words: readonly WordPicture[];
}

/** Clefs and key at the start of a line of a scan. */
export interface HeadPicture {
  readonly staves: readonly StaffPicture[];
}

/** Absent attributes mean "no". */
export interface FoundBar {
  readonly box: PageBox;
  readonly left: BarLineKind;
  readonly right: BarLineKind;
  /** Numbers of the ending bracket over it. */
  readonly ending?: readonly number[];
  /** An ending bracket begins here, on a page alone perhaps one whose numbers could not be read: two brackets with the same number stand apart. */
  readonly endingStarts?: true;
  /** Second part of a bar broken over two lines. */
  readonly continues?: true;
  /** A multi-bar rest of so many bars. */
  readonly restBars?: number;
  /** Nothing is struck in it. */
  readonly silent?: true;
  /** A note is tied over its right edge. */
  readonly tied?: true;
  /** A note is tied into it over its left edge. */
  readonly tiedIn?: true;
  /** It is the pickup at the start of a tune; on a page alone: it is one if its line begins a tune. */
  readonly pickup?: true;
  /** Beats that the pickup holds, where its notes could be read; otherwise absent. */
  readonly pickupBeats?: number;
  /** The meter printed in it. */
  readonly meter?: Meter;
  /** A section's letter or name printed over its start. */
  readonly section?: string;
  /** What is written in it, for telling twins; null when in doubt: such a bar is nobody's twin. */
  readonly content?: BarContent | null;
  /** How it looks on a scan, for the same end; null when in doubt. */
  readonly picture?: BarPicture | null;
  readonly sure: number;
}

/** An upright at a system's staves as it looked: a bar line, or a stroke that was left out. */
export interface SeenLine {
  /** Where it stands, a fraction of the page's width. */
  readonly x: number;
  /** Traits in the order of `TRAITS`, see looks/traits.ts. */
  readonly look: readonly number[];
  /** The boundary it was taken for; absent where it was left out. */
  readonly kind?: BarLineKind;
}

export interface FoundSystem {
  readonly box: PageBox;
  readonly staves: readonly FoundStaff[];
  readonly bars: readonly FoundBar[];
  /** How a line of a scan begins; null when that is in doubt: its bars are nobody's twins. */
  readonly head?: HeadPicture | null;
  /** How much lower it lies at its right end than at its left, fraction of the page's height; absent where it is straight. */
  readonly lean?: number;
  /** Every upright, left to right, for learning from a correction. */
  readonly seen?: readonly SeenLine[];
  readonly sure: number;
}

export type SignKind =
  | 'segno'
  | 'coda'
  | 'to-coda'
  | 'dc'
  | 'ds'
  | 'fine'
  | 'section'
  | 'title'
  | 'meter'
  | 'multi-rest'
  | 'ending'
  | 'pickup';

/** A sign or word that says something of the form. */
export interface FoundSign {
  readonly kind: SignKind;
  /** From 0. */
  readonly page: number;
  readonly box: PageBox;
  /** The printed words, where it has any. */
  readonly text?: string;
  /** The jump that D.C. and D.S. ask for after the return. */
  readonly al?: 'fine' | 'coda';
  /** Bars of a multi-bar rest. */
  readonly count?: number;
  readonly meter?: Meter;
  /** Index of the bar on its page that it belongs to; a title belongs to the first bar of the line it stands over. */
  readonly bar: number;
  readonly sure: number;
}

/** What was found on one page. */
export interface FoundPage {
  /** From 0. */
  readonly page: number;
  /** Page points. */
  readonly width: number;
  readonly height: number;
  /** In reading order. No music: none. */
  readonly systems: readonly FoundSystem[];
  readonly signs: readonly FoundSign[];
  /** Which way it was found; both: in its ink, and checked in its pixels. */
  readonly by: 'ink' | 'pixels' | 'both';
}

/** A chart as found over all its pages. Bars are counted in reading order over all pages from 0. */
export interface FoundChart {
  readonly pages: readonly FoundPage[];
  /** Written bars (a bar broken over two lines once) in the order they sound; null: signs contradict. */
  readonly route: readonly number[];
  /** Whole classes of more than one bar, ascending. */
  readonly twins: readonly (readonly number[])[];
  readonly sure: number;
}
