import { joinedTo, type Range } from './joined.ts';

/** Of the white between two lines so much stays with what it parts at most, in staff heights. */
const WHITE = 0.25;
/** The widest white that parts two lines must be so much wider than that half the way between them, and so wide. */
const WIDER = 1.3;
const WIDEST = 0.15;
/** A row of words has ink in so many of its columns; chord symbols, letters and signs stand further apart. */
const DENSE = 0.22;
/**
 * A row of chord symbols: so high, so far from the upper staff, in staff heights; in so many places or more, over so much
 * of the width. Common practice, no source: chord symbols stand over their line, fingering close to its notes.
 */
const CHORDS_HIGH = [0.25, 0.8] as const;
const CHORDS_OFF = 0.3;
const CHORDS = 3;
const CHORDS_WIDE = 0.4;
/** Two places are so far apart, in staff heights. */
const PLACES_APART = 1;
/** Verses are as high as each other, but for tails, and nearer to each other than that. */
const AS_HIGH = 0.6;

/** What stands at the lines' starts is smaller than this where it is a speck, in staff heights; so much white is kept. */
const SPECK = 0.1;
const KEPT_ROWS = 2;

/** Between two staves, rows from the upper one on. */
export interface Parting {
  /** First row that is no more of the upper line. */
  readonly upper: number;
  /** First row of the lower line. */
  readonly lower: number;
}

/** Rows from the staff of the upper line to that of the lower one. */
export interface Between {
  readonly isInk: (x: number, y: number) => boolean;
  readonly width: number;
  readonly height: number;
  /** Height of a staff. */
  readonly staff: number;
  /** So many of the first columns have clefs that reach beyond their staff, bar numbers, letters. */
  readonly signs: number;
}

/**
 * Where two lines part that are close: not half the way where verses of the upper one reach beyond it, or where letters
 * and chord symbols of the lower one do, but at the widest white, or over the chord symbols.
 * @returns null where half the way will do
 */
export function partingOf(between: Between): Parting | null {
  const white = whiteBetween(between);
  if (!white) return null;
  const { isInk, width, height, staff, signs } = between;
  const kept = Math.min(lengthOf(white) / 2, WHITE * staff);
  let [upper, lower] = [Math.ceil(white.from + kept), Math.floor(white.to - kept)];
  // At the start of the lines everything is of the nearer one.
  const seen = new Set<number>();
  const columns = { from: 0, to: Math.min(signs, width) };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < columns.to; x++) {
      const at = y * width + x;
      if (seen.has(at) || !isInk(x, y)) continue;
      const isInkAt = (place: number) => isInk(place % width, Math.floor(place / width));
      const { y0, y1 } = joinedTo(at, isInkAt, width, columns, { from: 0, to: height }, seen);
      const isLong = y0 === 0 && y1 === height;
      if (isLong || y1 - y0 < SPECK * staff) continue;
      if (y0 + y1 < white.from + white.to) upper = Math.max(upper, y1 + KEPT_ROWS);
      else lower = Math.min(lower, y0 - KEPT_ROWS);
    }
  return { upper: Math.min(height, upper), lower: Math.max(0, lower) };
}

/** The white that parts two lines, without a look at their starts; null where half the way will do. */
function whiteBetween({ isInk, width: whole, height, staff, signs }: Between): Range | null {
  const columns = Array.from({ length: Math.max(0, whole - signs) }, (_, i) => signs + i);
  const width = columns.length;
  const rows = Array.from({ length: height }, (_, y) => columns.some((x) => isInk(x, y)));
  const bands = bandsOf(rows, true);
  const white = bandsOf(rows, false);
  const inkOf = ({ from, to }: Range) =>
    columns.filter((x) => rows.slice(from, to).some((_, i) => isInk(x, from + i)));
  const half = height / 2;
  const isDense = (band: Range) => inkOf(band).length >= DENSE * width;
  const chords = bands.findIndex((band) => isChords(band, inkOf(band), width, height, staff));
  if (chords >= 0) {
    // With what stands over them and nearer to them, a letter or a sign.
    let first = chords;
    const whiteOver = (i: number) => (bands[i]?.from ?? 0) - (bands[i - 1]?.to ?? 0);
    while (bands[first - 1]?.from && !isDense(bands[first - 1]!) && whiteOver(first) <= whiteOver(first - 1))
      first--;
    return white.find(({ to }) => to === bands[first]!.from)!;
  }

  const widest = [...white].sort((a, b) => lengthOf(b) - lengthOf(a))[0];
  const there = white.find(({ from, to }) => from <= half && half <= to);
  if (!widest || widest === there || lengthOf(widest) < WIDEST * staff) return null;
  if (there && lengthOf(widest) < WIDER * lengthOf(there)) return null;
  // Of the lower half to the upper line: verses alone, each near one that is like it.
  const isVerse = (band: Range) => {
    const before = bands[bands.indexOf(band) - 1];
    if (!before || !isDense(band) || !isDense(before)) return false;
    const [less, more] = [lengthOf(band), lengthOf(before)].sort((a, b) => a - b) as [number, number];
    return less >= AS_HIGH * more && band.from - before.to <= less;
  };
  // Of the upper half to the lower line: anything but words.
  const isMoved =
    widest.from >= half
      ? bands.filter(({ from, to }) => to > half && from < widest.from).every(isVerse)
      : !bands.filter(({ from, to }) => from < half && to > widest.to).some(isDense);
  return isMoved ? widest : null;
}

/** Whether a band may be the chord symbols of the lower line, by the columns in which it has ink. */
function isChords(
  band: Range,
  ink: readonly number[],
  width: number,
  height: number,
  staff: number,
): boolean {
  const [least, most] = CHORDS_HIGH;
  const high = lengthOf(band) / staff;
  if (high < least || high > most || band.from < CHORDS_OFF * staff || band.to === height) return false;
  const places = ink.filter((x, i) => i === 0 || x - ink[i - 1]! >= PLACES_APART * staff);
  const isSpread = ink.length > 0 && ink.at(-1)! - ink[0]! >= CHORDS_WIDE * width;
  return ink.length < DENSE * width && places.length >= CHORDS && isSpread;
}

const lengthOf = ({ from, to }: Range) => to - from;

/** Runs of rows with ink, or without. */
function bandsOf(rows: readonly boolean[], wanted: boolean): readonly Range[] {
  const bands: { from: number; to: number }[] = [];
  rows.forEach((isInk, y) => {
    const last = bands.at(-1);
    if (isInk === wanted && last?.to === y) last.to++;
    else if (isInk === wanted) bands.push({ from: y, to: y + 1 });
  });
  return bands;
}
