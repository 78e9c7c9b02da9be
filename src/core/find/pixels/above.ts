/** Where something is written over a staff, and what the net sees of it. */
import { POOL, UNIT, type Strip } from './strip.ts';
import type { Straight } from './straight.ts';
import { blobsOf, inkOf, type Blob } from './things.ts';

/** A window begins so many spaces before what is written, and holds so many; it is so many high. */
const BEFORE = 1.5;
const WIDE = 12;
const HIGH = 4;
/** What the net sees of a place, in pixels, and the column at which it begins. */
export const WINDOW = { rows: (HIGH * UNIT) / POOL, columns: (WIDE * UNIT) / POOL };
export const LEFT = (BEFORE * UNIT) / POOL;

/** Least and largest height of what is written, in spaces, and how far above the staff it ends. */
const LOW = 0.7;
const TALL = 5;
const CLEAR = 0.5;
/** White of a word between its letters and to the next word, in spaces. */
const GAP = 0.75;
const NEXT = 1.1;
/** The same where a dot stands between: "D.C. al". */
const DOTTED = 2;
/** Letters of a word end within so many spaces of each other's lower end: some go below the line. */
const OFF_LINE = 0.7;
/** A letter and the white behind it are no wider. */
const LETTER = 1.5;
/** A blob wider than this is a line, or words that noise has joined to one. */
const LINE = 5;
/** The number of a bracket begins about so far behind its corner, in spaces, and its middle is so far below the line. */
export const RIGHT = 0.5;
const BELOW = 1.2;

/** A sign that hangs down to the notes or the staff: its width, and how far it goes up at least and at most, in spaces. */
const SIGN_WIDE = [1.4, 4] as const;
const SIGN_HIGH = [1.6, 3.2] as const;
/** Words between two staves are no narrower and no higher, in spaces: most that stands there is none. */
const WORD_WIDE = 2.5;
const WORD_HIGH = 2.6;
/** A stroke that comes from a staff is so wide where no letter touches it, in spaces; a final bar line does not grow wider. */
const STROKE = 0.7;
const FINAL = 1.3;
const WIDER = 0.17;

/**
 * What is higher than any sign, in spaces, may be two that touch: words are so high, and a sign or frame on them no wider.
 * The frame of a letter may be a little higher, and is no wider.
 */
const GROWN = 3.4;
const FRAME = [3.9, 3.3] as const;
const WORD = 1.75;
const UPPER = 5;

/** Something written over a staff, in columns and rows of the straightened picture. */
export interface WrittenPlace {
  readonly x0: number;
  /** The end of the words that begin here. */
  readonly x1: number;
  /** Their end where a word of theirs has a dot behind it; absent: the same. */
  readonly far?: number;
  readonly y0: number;
  readonly y1: number;
}

/**
 * The places over the top staff of a system where words, signs and numbers begin, and those between its staves where
 * words do, left to right.
 */
export function placesAbove(straight: Straight): WrittenPlace[] {
  const { unit, tops } = straight;
  const rows = Math.round(tops[0]! - CLEAR * unit);
  const ink = inkIn(straight, 0, rows);
  const all = blobsOf(ink, straight.width, rows);
  const blobs = all.filter(({ y0, y1 }) => y1 - y0 >= LOW * unit && y1 < rows - 1);
  const isLine = ({ x0, x1 }: Blob) => x1 - x0 > LINE * unit;
  const words = blobs.filter((blob) => !isLine(blob) && blob.y1 - blob.y0 <= TALL * unit);
  const grown = blobs.flatMap((blob) => piecesOf(blob, words, ink, straight));
  const corners = blobs.filter(isLine).map(({ x0, x1, y0 }) => placeUnder({ x0, x1, y: y0 }, unit));
  const hanging = all
    .filter(({ y0, y1 }) => y1 >= rows - 1 || y1 - y0 > TALL * unit)
    .flatMap((blob) => hangingSign(blob, unit));
  const others = all.filter((blob) => !words.includes(blob));
  const places = [...startsOf(words, others, unit), ...corners, ...grown, ...hanging];
  return [...places, ...placesBetween(straight)].sort((a, b) => a.x0 - b.x0);
}

/** A coda upon words, or words under a frame, that have grown together: the upper one and the words. */
function piecesOf(
  { x0, x1, y0, y1 }: Blob,
  others: readonly Blob[],
  ink: Uint8Array,
  { unit, width }: Straight,
): WrittenPlace[] {
  const isFrame = y1 - y0 < FRAME[0] * unit && x1 - x0 < FRAME[1] * unit;
  if (y1 - y0 < GROWN * unit || isFrame) return [];
  const waist = Math.round(y1 - WORD * unit);
  const piece = (from: number, to: number): WrittenPlace => {
    let [first, last] = [x1, x0];
    for (let v = from; v < to; v++) {
      const row = ink.subarray(v * width + x0, v * width + x1);
      const begin = row.indexOf(1);
      if (begin < 0) continue;
      first = Math.min(first, x0 + begin);
      last = Math.max(last, x0 + row.lastIndexOf(1) + 1);
    }
    return { x0: first, x1: last, y0: from, y1: to };
  };
  const [upper, words] = [piece(y0, waist), piece(waist, y1)];
  if (upper.x1 - upper.x0 > UPPER * unit) return [];
  return [upper, { ...words, x1: endOf(words, others, unit) }];
}

/** Ink of the rows from one to before another: 1 ink, 0 none. */
const inkIn = ({ width, data }: Straight, from: number, to: number): Uint8Array =>
  inkOf(data.subarray(width * from, width * to));

/**
 * Letters that no other letter stands before, each with the end of its words. Where the first letter has grown
 * together with something else, the words begin there.
 */
function startsOf(blobs: readonly Blob[], others: readonly Blob[], unit: number): WrittenPlace[] {
  const words = [...blobs].sort((a, b) => a.x0 - b.x0);
  return words
    .filter((blob) => !words.some((one) => one !== blob && (holds(one, blob) || leads(one, blob, unit))))
    .flatMap((blob) => {
      const place = { ...blob, x1: endOf(blob, words, unit), far: endOf(blob, words, unit, DOTTED) };
      const before = others.find((other) => isGrown(other, blob, unit));
      if (before === undefined || place.x1 - place.x0 < WORD_WIDE * unit) return [place];
      return [place, { ...place, x0: Math.max(before.x0, blob.x0 - LETTER * unit) }];
    });
}

/** What is no letter by itself may hold one: it reaches close to the letter behind, in the same rows. */
const isGrown = (other: Blob, letter: Blob, unit: number) =>
  other.x0 < letter.x0 &&
  other.x1 > letter.x0 - GAP * unit &&
  other.x1 - other.x0 < LINE * unit &&
  other.y1 - other.y0 > letter.y1 - letter.y0 &&
  Math.min(other.y1, letter.y1) - Math.max(other.y0, letter.y0) > 0.7 * (letter.y1 - letter.y0);

/** A segno or coda may touch a note, a beam or the staff under it; its upper end stands clear. */
function hangingSign({ x0, x1, y0, y1 }: Blob, unit: number): WrittenPlace[] {
  const [wide, high] = [(x1 - x0) / unit, (y1 - y0) / unit];
  if (wide < SIGN_WIDE[0] || wide > SIGN_WIDE[1] || high < SIGN_HIGH[0]) return [];
  return [{ x0, x1, y0, y1: y0 + Math.min(high, SIGN_HIGH[1]) * unit }];
}

/** Ink without the bar lines, and without the stems that come in from the first or the last row; letters that touch one are kept. */
function withoutStrokes(ink: Uint8Array, width: number, unit: number): Uint8Array {
  const GONE = 2;
  const last = ink.length - width;
  for (const [first, step] of [
    [0, width],
    [last, -width],
  ] as const)
    for (let row = first, any = true; any && row >= 0 && row <= last; row += step) {
      any = false;
      const here = ink.subarray(row, row + width);
      for (let u = here.indexOf(1), end = 0; u >= 0; u = here.indexOf(1, end)) {
        for (end = u; end < width && here[end] === 1;) end++;
        if (end - u > FINAL * unit) continue;
        const before = row - step;
        // How many of the columns, or of those beside them, came in so far.
        let gone = row === first ? end - u : 0;
        if (row !== first) for (let x = u - 1; x <= end; x++) if (ink[before + x] === GONE) gone++;
        if (gone === 0 || end - u > Math.max(STROKE * unit, gone + WIDER * unit)) continue;
        here.fill(GONE, u, end);
        any = true;
      }
    }
  return ink.map((value) => (value === GONE ? 0 : value));
}

/** Words between the staves of a system, as jumps are written in music on two staves; bar lines may run through them. */
function placesBetween(straight: Straight): WrittenPlace[] {
  const { unit, tops, width } = straight;
  return tops.slice(1).flatMap((top, k): WrittenPlace[] => {
    const from = Math.round(tops[k]! + (4 + CLEAR) * unit);
    const rows = Math.round(top - CLEAR * unit) - from;
    if (rows < LOW * unit) return [];
    const ink = withoutStrokes(inkIn(straight, from, from + rows), width, unit);
    const blobs = blobsOf(ink, width, rows);
    const words = blobs.filter(
      ({ y0, y1 }) => y0 > 0 && y1 < rows && y1 - y0 >= LOW * unit && y1 - y0 <= WORD_HIGH * unit,
    );
    const others = blobs.filter((blob) => !words.includes(blob));
    return startsOf(words, others, unit)
      .filter(({ x0, x1 }) => x1 - x0 >= WORD_WIDE * unit)
      .map((place) => ({ ...place, y0: place.y0 + from, y1: place.y1 + from }));
  });
}

/** Where the number of a bracket with this line stands. */
export function placeUnder(
  { x0, x1, y }: { readonly x0: number; readonly x1: number; readonly y: number },
  unit: number,
): WrittenPlace {
  const middle = y + BELOW * unit;
  return { x0: x0 + RIGHT * unit, x1, y0: middle - 0.5 * unit, y1: middle + 0.5 * unit };
}

/** A box around a letter. */
const holds = (a: Blob, b: Blob) => a.x0 <= b.x0 && a.x1 >= b.x1 && a.y0 <= b.y0 && a.y1 >= b.y1;

const sharesLine = (a: Blob, b: Blob) =>
  Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) > 0.4 * Math.min(a.y1 - a.y0, b.y1 - b.y0);

/**
 * A letter of the same word stands before it, on the same line of print: a raised figure of a chord symbol does not. The
 * hook of a bracket is none, and high and narrow.
 */
function leads(a: Blob, b: Blob, unit: number): boolean {
  const isHook = a.x1 - a.x0 < 0.4 * unit && a.y1 - a.y0 > 1.3 * (b.y1 - b.y0);
  const isOff = Math.abs(a.y1 - b.y1) > OFF_LINE * unit;
  return !isHook && !isOff && a.x0 < b.x0 && b.x0 - a.x1 < GAP * unit && sharesLine(a, b);
}

/** The right end of the words that begin with a letter. */
function endOf(first: Blob, words: readonly Blob[], unit: number, next = NEXT): number {
  let end = first.x1;
  for (const blob of words)
    if (blob.x0 > first.x0 && blob.x0 - end < next * unit && sharesLine(first, blob))
      end = Math.max(end, blob.x1);
  return end;
}

/** What the net sees of a place. */
export function windowAt({ width, height, data, unit }: Straight, { x0, y0, y1 }: WrittenPlace): Strip {
  const { rows, columns } = WINDOW;
  const left = Math.round(x0 - BEFORE * unit);
  const top = Math.round((y0 + y1 - HIGH * unit) / 2);
  const out = new Uint8Array(rows * columns);
  for (let y = 0; y < rows; y++) {
    const v = top + y * POOL;
    if (v < 0 || v + 1 >= height) continue;
    for (let x = 0; x < columns; x++) {
      const u = left + x * POOL;
      if (u < 0 || u + 1 >= width) continue;
      const i = v * width + u;
      out[y * columns + x] = (data[i]! + data[i + 1]! + data[i + width]! + data[i + width + 1]! + 2) >> 2;
    }
  }
  return { rows, columns, data: out };
}
