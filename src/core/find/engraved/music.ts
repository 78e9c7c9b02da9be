/** What of a system may be the music of its bars: no clef and key, no words. */
import type { PointBox } from '../types.ts';
import { chordLetters, type ChordLetter } from './chords.ts';
import type { Straight } from './straight.ts';
import { isBeam } from './stems.ts';
import type { Sign } from './things.ts';
import { partsOfWords, type Words } from './words.ts';
import { isInStaff, isPlayed, middleY, type SystemInk } from './written.ts';

/** An accidental stands so close, in spaces, before its note, and a dot behind it. */
const BESIDE = 0.8;

export interface Music {
  readonly signs: readonly Sign[];
  /** Stems, and bar lines with them. */
  readonly uprights: readonly Straight[];
  readonly letters: readonly ChordLetter[];
}

/** @param header the signs of clef and key */
export function musicOf(system: SystemInk, header: ReadonlySet<Sign>): Music {
  const inWords = partsOfWords(system.pageWords, loose(system));
  const frames = framesIn(system);
  const isFramed = (sign: Sign) => frames.some((frame) => isIn(sign.ink.box, frame));
  const signs = system.signs.filter((sign) => !header.has(sign) && !inWords.has(sign) && !isFramed(sign));
  return { signs, uprights: longUprights(system), letters: chordLetters(system, inWords) };
}

/** Uprights as long as a stem within the system's reach, but for the sides of boxes around words. */
function longUprights({ lines, staves, reach: [top, bottom], pageWords }: SystemInk): Straight[] {
  const { space } = staves[0]!;
  const boxes = pageWords.filter(({ boxed }) => boxed);
  return lines.upright.filter((line) => {
    const isLong = line.to - line.from > 1.2 * space && line.from > top && line.to < bottom;
    return isLong && !boxes.some((word) => isSideOf(word, line));
  });
}

/**
 * Signs that may belong to a chord symbol which they touch. What is known as a note, or stands in a staff elsewhere, is none;
 * an accidental right before one and a dot right behind one are the note's.
 */
function loose({ nearby, staves }: SystemInk): Sign[] {
  const { space } = staves[0]!;
  const played = nearby.filter(isPlayed);
  const notes = new Set(played.filter((sign) => isInStaff(sign, staves)).map(({ ink }) => ink.outline));
  const isNote = (sign: Sign) => isPlayed(sign) && (sign.name !== '' || notes.has(sign.ink.outline));
  const heads = played.filter((sign) => sign.kind === 'head' && isNote(sign));
  const isBeside = (sign: Sign) => {
    const isBefore = sign.kind === 'accidental';
    if (!isBefore && !isDot(sign.ink.box, space)) return false;
    return heads.some((head) => {
      const gap = isBefore ? head.ink.box[0] - sign.ink.box[2] : sign.ink.box[0] - head.ink.box[2];
      const isClose = gap > -0.2 * space && gap < BESIDE * space;
      return isClose && Math.abs(middleY(head) - middleY(sign)) < space;
    });
  };
  return nearby.filter((sign) => !isNote(sign) && !isBeam(sign, space) && !isBeside(sign));
}

const isDot = ([x0, y0, x1, y1]: PointBox, space: number) => Math.max(x1 - x0, y1 - y0) < 0.75 * space;

/** Drawn boxes over the staves: what stands in one names a section, though its letters be outlines. */
function framesIn({ signs, staves }: SystemInk): PointBox[] {
  const top = staves[0]!.lines[0]!;
  return signs.flatMap(({ ink }) => {
    const isFrame =
      ink.kind === 'shape' && !ink.filled && ink.rings.length === 1 && ink.rings[0]!.length <= 10;
    return isFrame && ink.box[3] < top ? [ink.box] : [];
  });
}

/** An upright is a side of the box around a word. */
const isSideOf = ({ box, size }: Words, { at, from, to }: Pick<Straight, 'at' | 'from' | 'to'>) =>
  (Math.abs(at - box[0]) < size || Math.abs(at - box[2]) < size) &&
  from <= box[1] &&
  to >= box[3] &&
  to - from < box[3] - box[1] + 2 * size;

const isIn = (box: PointBox, frame: PointBox) =>
  box[0] >= frame[0] && box[1] >= frame[1] && box[2] <= frame[2] && box[3] <= frame[3];
