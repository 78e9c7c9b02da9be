import { joinedTo, type Joined, type Range } from './joined.ts';

/** Of the white between two lines so much stays with what it parts at most, in staff heights. */
const WHITE = 0.25;
/** Without words or chord symbols the widest white parts two lines; it must be so much wider than that half the way, and so wide. */
const WIDER = 1.3;
const WIDEST = 0.15;
/**
 * A row of words has ink in so many of its columns; chord symbols, letters and signs stand further apart: measured on pages
 * of five engravers, words 0.53 and more, chord symbols 0.27 at most.
 */
const DENSE = 0.4;
/** Rows of words are at least so high, in staff heights; verses that touch are one. */
const WORDS_HIGH = 0.25;
/** Rows of chord symbols are so high, and the highest sign in them is: notes on ledger lines, 0.28, are none. */
const CHORDS_HIGH = 1;
const CHORD_HIGH = 0.34;
/**
 * Chord symbols stand so far from the upper staff, in staff heights; in so many places or more, over so much of the width.
 * Common practice, no source: chord symbols stand over their line and words under it, fingering close to its notes.
 */
const CHORDS_OFF = 0.3;
const CHORDS = 2;
const CHORDS_WIDE = 0.4;
/** Two places are so far apart, in staff heights. */
const PLACES_APART = 1;
/** A letter in its box, a segno, a coda are so high, in staff heights, and stand over their line. */
const TALL = 0.6;
const BOX_WIDE = 0.5;
/** What is wider is no word but a bracket, in staff heights, and what is smaller a speck. */
const BRACKET = 3;
const SPECK = 0.06;
/** White rows that are kept beside what is joined to a staff. */
const KEPT_ROWS = 2;

/** Between two staves, in rows or in fractions of the page. */
export interface Parting {
  /** First row beyond the upper line, its lowest notes with it. */
  readonly upper: number;
  /** First row of the lower line, its highest notes with it. */
  readonly lower: number;
  /** The white between what is of the one and of the other: beyond it is only what is joined to the line itself. */
  readonly white: Range;
}

/** Rows from the staff of the upper line to that of the lower one. */
export interface Between {
  readonly isInk: (x: number, y: number) => boolean;
  readonly width: number;
  readonly height: number;
  /** Height of a staff. */
  readonly staff: number;
  /** So many of the first columns have bar numbers and letters: they do not tell where the lines part. */
  readonly signs: number;
}

/**
 * Where two lines part: not half the way, but under the words of the upper one and over the chord symbols of the lower,
 * or at the widest white.
 * @returns null where half the way will do
 */
export function partingOf({ isInk, width, height, staff, signs }: Between): Parting | null {
  const seen = new Set<number>();
  const isInkAt = (at: number) => isInk(at % width, Math.floor(at / width));
  const all: Joined[] = [];
  for (let at = 0; at < width * height; at++)
    if (!seen.has(at) && isInkAt(at))
      all.push(joinedTo(at, isInkAt, width, { from: 0, to: width }, { from: 0, to: height }, seen));
  const free = all.filter(({ y0, y1 }) => y0 > 0 && y1 < height && y1 - y0 >= SPECK * staff);
  const telling = free.filter(({ x1 }) => x1 > signs);
  const white = whiteBetween(bandsOf(telling), { width: width - signs, height, staff });
  if (!white) return null;
  const kept = Math.min(lengthOf(white) / 2, WHITE * staff);
  // What is joined to a staff is its own, and at the start of the lines everything is of the nearer one.
  const isUpper = ({ y0, y1 }: Joined) => y0 === 0 || (y1 < height && y0 + y1 < white.from + white.to);
  const own = all.filter(({ x1, y0, y1 }) => {
    const isAtOne = (y0 === 0) !== (y1 === height);
    return isAtOne || (y0 > 0 && x1 <= signs && y1 - y0 >= SPECK * staff);
  });
  const [over, under] = [own.filter(isUpper), own.filter((ink) => !isUpper(ink))];
  const upper = over.reduce((most, { y1 }) => Math.max(most, y1 + KEPT_ROWS), Math.ceil(white.from + kept));
  const lower = under.reduce((least, { y0 }) => Math.min(least, y0 - KEPT_ROWS), Math.floor(white.to - kept));
  return { upper: Math.min(height, upper), lower: Math.max(0, lower), white };
}

/** Rows of ink between two lines that is joined to neither staff. */
interface Band extends Range {
  readonly ink: readonly Joined[];
}

function bandsOf(ink: readonly Joined[]): readonly Band[] {
  const bands: { from: number; to: number; ink: Joined[] }[] = [];
  for (const each of [...ink].sort((a, b) => a.y0 - b.y0)) {
    const last = bands.at(-1);
    if (!last || each.y0 >= last.to) bands.push({ from: each.y0, to: each.y1, ink: [each] });
    else {
      last.to = Math.max(last.to, each.y1);
      last.ink.push(each);
    }
  }
  return bands;
}

interface Room {
  readonly width: number;
  readonly height: number;
  readonly staff: number;
}

/** The white that parts two lines; null where half the way will do. */
function whiteBetween(bands: readonly Band[], room: Room): Range | null {
  const { height, staff } = room;
  const white = [...bands, { from: height }].map(({ from: to }, i) => ({ from: bands[i - 1]?.to ?? 0, to }));
  const isWords = bands.map((band) => isDense(band, room));
  const isOver = (band: Band, i: number) => !isWords[i] && (isChords(band, room) || isTall(band, staff));
  const chords = bands.findIndex(isOver);
  const words = isWords.lastIndexOf(true, chords < 0 ? bands.length : chords);
  if (chords >= 0) {
    // With what stands over them and nearer to them, unless it is as low as notes are.
    let first = chords;
    const isTheirs = (i: number) =>
      isHigh(bands[i]!, staff) && lengthOf(white[i + 1]!) <= lengthOf(white[i]!);
    while (first - 1 > words && isTheirs(first - 1)) first--;
    return white[first]!;
  }
  if (words >= 0) {
    // With what stands under them and nearer to them, the few words of a verse that ends.
    let last = words;
    while (last + 1 < bands.length && lengthOf(white[last + 1]!) <= lengthOf(white[last + 2]!)) last++;
    return white[last + 1]!;
  }
  const widest = [...white].sort((a, b) => lengthOf(b) - lengthOf(a))[0]!;
  const there = white.find(({ from, to }) => from <= height / 2 && height / 2 <= to);
  if (widest === there || lengthOf(widest) < WIDEST * staff) return null;
  return there && lengthOf(widest) < WIDER * lengthOf(there) ? null : widest;
}

const lengthOf = ({ from, to }: Range) => to - from;

/** Whether a band holds words all along, and no bracket. */
function isDense(band: Band, { width, staff }: Room): boolean {
  return lengthOf(band) >= WORDS_HIGH * staff && !hasBracket(band, staff) && covered(band) >= DENSE * width;
}

const hasBracket = ({ ink }: Band, staff: number) => ink.some(({ x0, x1 }) => x1 - x0 > BRACKET * staff);

/** Whether a boxed letter or a sign stands in a band: close to the upper staff what is narrow is a low note's accidental. */
const isTall = ({ ink }: Band, staff: number) =>
  ink.some(
    ({ x0, x1, y0, y1 }) =>
      y1 - y0 >= TALL * staff && (x1 - x0 >= BOX_WIDE * staff || y0 >= CHORDS_OFF * staff),
  );

/** Whether something in a band is as high as a letter of a chord symbol. */
const isHigh = ({ ink }: Band, staff: number) => ink.some(({ y0, y1 }) => y1 - y0 >= CHORD_HIGH * staff);

function isChords(band: Band, room: Room): boolean {
  const { width, staff } = room;
  if (!isHigh(band, staff) || lengthOf(band) > CHORDS_HIGH * staff) return false;
  if (band.from < CHORDS_OFF * staff) return false;
  const sorted = [...band.ink].sort((a, b) => a.x0 - b.x0);
  let [places, end] = [0, -Infinity];
  for (const { x0, x1 } of sorted) {
    if (x0 - end >= PLACES_APART * staff) places++;
    end = Math.max(end, x1);
  }
  const isSpread = end - sorted[0]!.x0 >= CHORDS_WIDE * width;
  return !hasBracket(band, staff) && covered(band) < DENSE * width && places >= CHORDS && isSpread;
}

/** Columns in which a band has ink, each letter taken as a box. */
function covered({ ink }: Band): number {
  let [columns, end] = [0, -Infinity];
  for (const { x0, x1 } of [...ink].sort((a, b) => a.x0 - b.x0)) {
    columns += Math.max(0, x1 - Math.max(x0, end));
    end = Math.max(end, x1);
  }
  return columns;
}
