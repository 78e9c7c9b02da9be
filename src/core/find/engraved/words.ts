import type { InkGlyph, InkShape, PointBox } from '../types.ts';
import { textOf } from './brackets.ts';
import type { SortedInk } from './fonts.ts';
import type { Straights } from './straight.ts';
import { isOfForm } from './signs.ts';
import type { Sign } from './things.ts';

export interface Letter {
  readonly text: string;
  readonly look: string;
  readonly box: PointBox;
}

/** Letters that stand together: a chord symbol, a word, a phrase. */
export interface Words {
  readonly text: string;
  /** Its letters by what they look like: the same music has the same, whatever the file's encoding. */
  readonly letters: readonly Letter[];
  readonly box: PointBox;
  readonly size: number;
  /** It stands in a box or circle. */
  readonly boxed: boolean;
}

/** Letters this share of their size apart belong together; words of a phrase are about a quarter apart. */
const TOGETHER = 0.5;
/** Letters of different fonts belong together only when they touch. */
const TOUCHING = 0.12;
/** Letters of one word lie over each other at most so far; of two fonts, two words do. */
const OVER = 0.6;
const OVER_OTHER = 0.15;
/** An accidental between them stands so close to both; with the white around it, it is at most so wide. */
const WHITE = 0.2;
const BETWEEN = 1.2;
/** Raised and lowered letters belong to the word; a small one that hangs lower from a large one is another word's. */
const RAISED = 0.75;
const LOWERED = 0.25;
const SMALLER = 0.8;

interface Piece {
  readonly box: PointBox;
  /** Where its place on the line begins and ends, with the white beside the ink. */
  readonly from: number;
  readonly to: number;
  readonly y: number;
  readonly size: number;
  readonly text: string;
  readonly look: string;
  readonly font: string;
}

/** All words of a page, with the accidentals and triangles of chord symbols that stand beside letters. */
export function wordsOf(ink: SortedInk, lines: Straights): Words[] {
  const letters = ink.letters.filter(({ angle }) => Math.abs(angle) < 5 || Math.abs(angle) > 355);
  const pieces = letters.map(pieceOf);
  const runs = runsOf(pieces, ink.signs);
  const frames = framesOf(ink.shapes, lines);
  return runs
    .flatMap((run) => apartByFrames(run, frames))
    .flatMap(apartFromChords)
    .map((run) => wordOf(run, frames));
}

/** What stands in a box, and the chord symbol beside it, so close that it seems to go on: each apart. */
function apartByFrames(run: readonly Piece[], frames: readonly PointBox[]): (readonly Piece[])[] {
  const around = boxAround(run);
  for (const frame of frames) {
    if (!overlap(around, frame)) continue;
    const isIn = ({ box }: Piece) => isWithin(box, frame);
    const inside = run.filter(isIn);
    if (inside.length === 0 || inside.length === run.length) continue;
    const [box, size] = [boxAround(inside), sizeOf(inside)];
    if (!isFrameOf(frame, box, size) || !hasAir(frame, box, size)) continue;
    const outside = run.filter((piece) => !isIn(piece));
    return [inside, ...apartByFrames(outside, frames)];
  }
  return [run];
}

/** Between a frame and its words there is white, in sizes of the words; the outline of a letter leaves none. */
const AIR = 0.1;

function hasAir(frame: PointBox, box: PointBox, size: number): boolean {
  const air = AIR * size;
  return box[0] - frame[0] > air && box[1] - frame[1] > air && frame[2] - box[2] > air;
}

const sizeOf = (run: readonly Piece[]): number => Math.max(...run.map(({ size }) => size));

function boxAround(run: readonly Piece[]): PointBox {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { box } of run) {
    x0 = Math.min(x0, box[0]);
    y0 = Math.min(y0, box[1]);
    x1 = Math.max(x1, box[2]);
    y1 = Math.max(y1, box[3]);
  }
  return [x0, y0, x1, y1];
}

const overlap = (a: PointBox, b: PointBox) => a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];

/** A frame stands close around its words. */
function isFrameOf(frame: PointBox, box: PointBox, size: number): boolean {
  return (
    isWithin(box, frame) &&
    frame[2] - frame[0] < box[2] - box[0] + 2 * size &&
    frame[3] - frame[1] < box[3] - box[1] + 2 * size
  );
}

/** What stands behind the root of a chord symbol, and all of it, as they are commonly written. */
const QUALITY = String.raw`(?:maj|min|mi|ma|m|M|dim|aug|sus|add|alt|[\d°oø△Δ+\-−^()b#♭♯,])`;
const CHORD = new RegExp(`^[A-H][b#♭♯]?${QUALITY}*(?:/[A-H][b#♭♯]?)?$`, 'u');
/** Its accidental may be a drawing: the rest of it stands apart then. */
const REST_OF_CHORD = new RegExp(`^${QUALITY}+(?:/[A-H][b#♭♯]?)?$`, 'u');

/** Words of the form run into chord symbols before or behind them: each apart. */
function apartFromChords(run: readonly Piece[]): (readonly Piece[])[] {
  const parts = partsOf(run, true);
  const said = parts.map((part) => part.map(({ text }) => text).join(''));
  if (!said.some((text) => /coda|fine|capo|segno|^d\.?[cs]\b/iu.test(text))) return [run];
  const isChord = said.map((text, i) => CHORD.test(text) || (i > 0 && REST_OF_CHORD.test(text)));
  const from = isChord.indexOf(false);
  const to = isChord.lastIndexOf(false) + 1;
  const form = parts.slice(from, to).flat();
  if ((from === 0 && to === parts.length) || !isOfForm(textIn(form))) return [run];
  return [parts.slice(0, from).flat(), form, parts.slice(to).flat()].filter((part) => part.length > 0);
}

function pieceOf(glyph: InkGlyph): Piece {
  return {
    box: glyph.box,
    from: Math.min(glyph.x, glyph.box[0]),
    to: Math.max(glyph.x + glyph.advance, glyph.box[2]),
    y: glyph.y,
    size: glyph.size,
    text: textOf(glyph),
    look: glyph.outline,
    font: glyph.font,
  };
}

function runsOf(pieces: readonly Piece[], signs: readonly { readonly box: PointBox }[]): Piece[][] {
  const runs: Piece[][] = [];
  for (const piece of [...pieces].sort((a, b) => a.box[0] - b.box[0])) {
    const fitting = runs.filter((run) => {
      const last = run.at(-1)!;
      const first = run[0]!;
      if (!isOnLine(last, piece) && !isOnLine(first, piece)) return false;
      const size = Math.max(last.size, piece.size);
      const gap = piece.box[0] - Math.max(...run.slice(-4).map(({ box }) => box[2]));
      const most = (last.font === piece.font ? TOGETHER : TOUCHING) * size;
      return (
        gap > -(last.font === piece.font ? OVER : OVER_OTHER) * size &&
        sizesFit(first, piece) &&
        run.slice(-4).some((one) => isLevel(one, piece)) &&
        (gap <= most || (gap <= BETWEEN * size && signs.some((sign) => fills(sign.box, last, piece))))
      );
    });
    // Two words may lie over each other: a letter goes on with its own font.
    const own = fitting.find((run) => run.at(-1)!.font === piece.font) ?? fitting[0];
    if (own) own.push(piece);
    else runs.push([piece]);
  }
  return runs;
}

/** A flat or sharp of a music font stands between two letters of a chord symbol, close to both. */
function fills([x0, y0, x1, y1]: PointBox, { box: left, size }: Piece, { box: right }: Piece): boolean {
  const most = WHITE * size;
  const touches = Math.abs(x0 - left[2]) <= most && Math.abs(right[0] - x1) <= most;
  return touches && y0 < left[3] && y1 > left[1] && y1 - y0 < 1.5 * size;
}

function isOnLine(a: Piece, b: Piece): boolean {
  // Asked for each letter and each run: a pair made anew each time would be much.
  const large = a.size < b.size ? b : a;
  const small = a.size < b.size ? a : b;
  const most = small.size < SMALLER * large.size ? LOWERED : RAISED;
  const lower = (small.y - large.y) / large.size;
  return lower <= most && lower >= -RAISED;
}

/** A raised number reaches down to its letters; it stands close to a title over it, too, but does not reach it. */
const isLevel = (a: Piece, b: Piece) => a.box[1] < b.box[3] && b.box[1] < a.box[3];

const sizesFit = (a: Piece, b: Piece) => Math.max(a.size, b.size) <= 2.2 * Math.min(a.size, b.size);

/** Pieces between which there is no white, `byFont` of one font. */
function partsOf(run: readonly Piece[], byFont = false): Piece[][] {
  const parts: Piece[][] = [];
  let end = -Infinity;
  let to = -Infinity;
  for (const piece of run) {
    // A "1" stands alone in its ink; a word ends where there is white between the places, too.
    const isApart = piece.box[0] - end > 0.18 * piece.size && piece.from - to > 0.1 * piece.size;
    const isOther = byFont && parts.at(-1)?.at(-1)?.font !== piece.font;
    if (isApart || isOther) parts.push([piece]);
    else parts.at(-1)!.push(piece);
    to = Math.max(to, piece.to);
    end = Math.max(end, piece.box[2]);
  }
  return parts;
}

const textIn = (run: readonly Piece[]) =>
  partsOf(run)
    .map((part) => part.map(({ text }) => text).join(''))
    .join(' ');

function wordOf(run: readonly Piece[], frames: readonly PointBox[]): Words {
  const [box, size] = [boxAround(run), sizeOf(run)];
  return {
    text: textIn(run).trim(),
    letters: run.map((piece) => ({ text: piece.text, look: piece.look, box: piece.box })),
    box,
    size,
    boxed: frames.some((frame) => isFrameOf(frame, box, size)),
  };
}

/** Stroked outlines, and boxes made of four lines. */
function framesOf(shapes: readonly InkShape[], { across, upright }: Straights): PointBox[] {
  const drawn = shapes.filter((one) => !one.filled || one.rings.length > 1).map(({ box }) => box);
  const short = across.filter((line) => line.to - line.from < 120);
  const made = short.flatMap((top) =>
    short.flatMap((bottom): PointBox[] => {
      const height = bottom.at - top.at;
      if (
        height < 4 ||
        height > 60 ||
        Math.abs(top.from - bottom.from) > 1.5 ||
        Math.abs(top.to - bottom.to) > 1.5
      )
        return [];
      const sides = [top.from, top.to].every((x) =>
        upright.some(
          (side) =>
            Math.abs(side.at - x) <= 1.5 &&
            Math.abs(side.from - top.at) <= 1.5 &&
            Math.abs(side.to - bottom.at) <= 1.5,
        ),
      );
      return sides ? [[top.from, top.at, top.to, bottom.at]] : [];
    }),
  );
  return [...drawn, ...made];
}

const isWithin = (a: PointBox, b: PointBox) => a[0] >= b[0] && a[1] >= b[1] && a[2] <= b[2] && a[3] <= b[3];

/** An accidental or a triangle is at most this wide, in sizes of its word; a beam over a word is wider. */
const WIDEST_PART = 1.2;

/** Signs that belong to a chord symbol: they touch its letters. What stands in a box has none. */
export function partsOfWords(words: readonly Words[], signs: readonly Sign[]): Map<Sign, Words> {
  const found = new Map<Sign, Words>();
  const boxed = words.filter((word) => word.boxed);
  for (const sign of signs) {
    const [x0, y0, x1, y1] = sign.ink.box;
    // A letter in a box that is drawn as a shape, and the box itself.
    if (boxed.some(({ box }) => isWithin(box, sign.ink.box) || isWithin(sign.ink.box, box))) continue;
    const middle = (y0 + y1) / 2;
    const beside = words.filter(
      ({ box, size, boxed }) =>
        !boxed &&
        x1 - x0 < WIDEST_PART * size &&
        middle > box[1] - 0.5 * size &&
        middle < box[3] + 0.4 * size &&
        x0 < box[2] + 0.5 * size &&
        x1 > box[0] - 0.5 * size &&
        y1 - y0 < 1.5 * size,
    );
    // A tempo may stand over a chord symbol, as close to its triangle as the letters are.
    const off = ({ box }: Words) => Math.max(box[1] - middle, middle - box[3], 0);
    const word = beside.reduce<Words | undefined>(
      (best, one) => (best === undefined || off(one) < off(best) ? one : best),
      undefined,
    );
    if (word && !(x0 <= word.box[0] && x1 >= word.box[2])) found.set(sign, word);
  }
  return found;
}
