import type { Dot, InkGlyph, InkShape, PointBox, StaffParts, Thing, ThingKind } from '../types.ts';
import { boxOf, isLong } from '../rings.ts';
import { composedSigns } from './composed.ts';
import { offStep, type SortedInk } from './fonts.ts';
import { nameByLook } from './look.ts';
import { wholeNote, type WholeNote } from './notes.ts';
import { smuflName } from './smufl.ts';
import { isBeam } from './stems.ts';
import type { SystemInk } from './written.ts';

/** A sign with what it is: its name in SMuFL or in its font, "" when neither is known. */
export interface Sign {
  readonly ink: InkShape | InkGlyph;
  readonly name: string;
  readonly kind: ThingKind;
  /** Of the head of a note in one piece without flags, in quarters. */
  readonly length?: number;
}

/** A head is at least so wide, in spaces, a small one, too. */
const SMALLEST_HEAD = 0.6;

/** What a font adds to the name of a glyph that it has in another shape: LilyPond counts bars of rest with "four.alt". */
export const ANOTHER_SHAPE = /\.alt$/;

/** Digits of a meter are two spaces high; those of a smaller meter and of fingerings are told by their looks. */
const METER_DIGIT = [1.6, 2.4] as const;

/**
 * Names that are read: SMuFL's and LilyPond's, whose parts are parted by points. LilyPond's fonts have letters and digits
 * beside them. A font that calls its signs otherwise, by the letters of a typewriter say, is known by their looks.
 */
const READ =
  /\.|clef|^(notehead|rest|accidental|timesig|flag|segno|coda|augmentation|artic|dynamic|ornament|fermata|brace|bracket|repeat|barline|tuplet)/i;
const LILYPOND = /emmentaler|feta|parmesan/i;
const NUMBERED = /^(g|glyph|uni|cid|c|a)?\d+$/i;

/** A font of music has digits for meters, whether they look like others or not. */
function meterDigit(ink: InkGlyph, space: number): string {
  if (!/^[0-9]$/.test(ink.unicode)) return '';
  const high = (ink.box[3] - ink.box[1]) / space;
  return high > METER_DIGIT[0] && high < METER_DIGIT[1] ? `timeSig${ink.unicode}` : '';
}

/** An outline at a size of staff. */
const keyOf = ({ outline }: InkShape | InkGlyph, space: number) => `${outline} ${space.toFixed(1)}`;

/** Names signs by their looks, each outline once; one for all pages of a size of staff. */
export class Names {
  readonly #known = new Map<string, string>();
  readonly #notes = new Map<string, WholeNote | null>();

  of(ink: InkShape | InkGlyph, space: number): string {
    if (ink.kind === 'shape') return this.#look(ink, space);
    const called = NUMBERED.test(ink.name) ? '' : ink.name;
    if (READ.test(called) || (called !== '' && LILYPOND.test(ink.font)))
      return called.replace(ANOTHER_SHAPE, '');
    return smuflName(ink.unicode) || meterDigit(ink, space) || this.#look(ink, space);
  }

  #look(ink: InkShape | InkGlyph, space: number): string {
    if (ink.rings.length === 0 || (ink.kind === 'shape' && !ink.filled)) return '';
    const key = keyOf(ink, space);
    let name = this.#known.get(key);
    if (name === undefined) {
      const [x0, y0, x1, y1] = ink.box;
      name = nameByLook(ink.rings, (x1 - x0) / space, (y1 - y0) / space);
      // A dot looks like a small head.
      if (name.startsWith('notehead') && x1 - x0 < SMALLEST_HEAD * space) name = '';
      this.#known.set(key, name);
    }
    return name;
  }

  /** The head of a note in one piece that stands where notes do; null for any other sign. */
  headIn(ink: InkShape | InkGlyph, staves: readonly StaffParts[]): Sign | null {
    if (ink.kind !== 'glyph' || ink.rings.length === 0) return null;
    const { space } = staves[0]!;
    const [x0, y0] = ink.box;
    const key = keyOf(ink, space);
    let note = this.#notes.get(key);
    if (note === undefined) {
      const found = wholeNote(ink.rings, ink.box, space);
      note = found && { ...found, box: movedBy(found.box, -x0, -y0) };
      this.#notes.set(key, note);
    }
    if (note === null) return null;
    const box = movedBy(note.box, x0, y0);
    if (!staves.some((staff) => isOnStep(box, staff))) return null;
    const head = {
      ink: { ...ink, rings: ink.rings, box, outline: `${ink.outline} head` },
      name: note.name,
      kind: 'head',
    } as const;
    return note.length === null ? head : { ...head, length: note.length };
  }
}

const movedBy = ([x0, y0, x1, y1]: PointBox, x: number, y: number): PointBox => [
  x0 + x,
  y0 + y,
  x1 + x,
  y1 + y,
];

/** Heads stand so far from their staff, in spaces, and so near to a line or the middle of a space. */
const LEDGERS = 5;
const OFF_STEP = 0.2;

function isOnStep([, y0, , y1]: PointBox, staff: StaffParts): boolean {
  const { lines, space } = staff;
  const y = (y0 + y1) / 2;
  const isNear = y >= lines[0]! - LEDGERS * space && y <= lines.at(-1)! + LEDGERS * space;
  return isNear && offStep(y, staff) < OFF_STEP;
}

/** Signs that stand at a system, between these heights. */
export function signsAt(
  staves: readonly StaffParts[],
  ink: SortedInk['signs'],
  [top, bottom]: SystemInk['reach'],
  names: Names,
): Sign[] {
  const { space, x0, x1 } = staves[0]!;
  return ink.flatMap((one) => {
    const { box } = one;
    const y = (box[1] + box[3]) / 2;
    if (y < top || y > bottom || box[2] < x0 - 2 * space || box[0] > x1 + space) return [];
    const name = names.of(one, space);
    // A short beam is as large as a head.
    const kind = isBlockRest(one, staves)
      ? 'multi-rest'
      : isBeam({ ink: one, name }, space)
        ? 'other'
        : kindOf(name, one, space);
    if (kind === 'other' && name === '' && areLines(one, space)) return [];
    const sign = { ink: one, name, kind };
    const head = kind === 'other' && name === '' ? names.headIn(one, staves) : null;
    return head ? [sign, head] : [sign];
  });
}

/** A line is at most so thick, in spaces. */
const LINE_THICK = 0.6;

/** A letter of a font that is lines and nothing else, of a staff, a bar line or a ledger: they are told as lines. */
function areLines({ kind, rings }: InkShape | InkGlyph, space: number): boolean {
  if (kind !== 'glyph' || rings.length === 0) return false;
  return rings.every((ring) => {
    const box = boxOf([ring]);
    const isPoint = box[2] === box[0] && box[3] === box[1];
    return isPoint || (isLong(box) && Math.min(box[2] - box[0], box[3] - box[1]) < LINE_THICK * space);
  });
}

/** Sides of a block rest lean at most this much; so near is its middle to that of its staff. In spaces. */
const LEANS = 0.05;
const CENTRED = 0.25;

/** A thick level bar with a serif at each end, in the middle of a staff: a rest of one bar or many, in one outline. */
function isBlockRest(ink: InkShape | InkGlyph, staves: readonly StaffParts[]): boolean {
  if ((ink.kind === 'shape' && !ink.filled) || ink.rings.length !== 1) return false;
  const { space } = staves[0]!;
  const [x0, y0, x1, y1] = ink.box;
  const [width, height] = [(x1 - x0) / space, (y1 - y0) / space];
  if (width < 2 || width > 16 || height < 0.7 || height > 2.3) return false;
  const points = ink.rings[0]!;
  if (points.length < 2 * 8) return false;
  const isSquare = points.every((at, i) => {
    if (i % 2 === 1) return true;
    const next = (i + 2) % points.length;
    const off = Math.min(Math.abs(points[next]! - at), Math.abs(points[next + 1]! - points[i + 1]!));
    return off <= LEANS * space;
  });
  return (
    isSquare &&
    staves.some(({ lines }) => Math.abs((y0 + y1) / 2 - (lines[0]! + lines.at(-1)!) / 2) <= CENTRED * space)
  );
}

/** Segno and coda anywhere on a page. */
export function namedSigns(ink: SortedInk, space: number, names: Names): Sign[] {
  const whole = ink.signs.flatMap((one): Sign[] => {
    const height = one.box[3] - one.box[1];
    if (height < space || height > 6 * space) return [];
    const name = names.of(one, space);
    return /segno|coda/i.test(name) ? [{ ink: one, name, kind: 'other' }] : [];
  });
  return [
    ...whole,
    ...composedSigns(ink.all, space).filter((sign) => !whole.some(({ ink }) => ink === sign.ink)),
  ];
}

/** What a sign is by its name, otherwise by its size. */
function kindOf(name: string, ink: InkShape | InkGlyph, space: number): ThingKind {
  if (/^notehead/i.test(name)) return 'head';
  if (/^rest/i.test(name)) return 'rest';
  if (/clef/i.test(name)) return 'clef';
  if (/^accidental/i.test(name)) return 'accidental';
  if (/^timesig/i.test(name) || /^(zero|one|two|three|four|five|six|seven|eight|nine)$/.test(name))
    return 'time';
  // The triangle of a chord symbol is as large as a head.
  const isTriangle = ink.kind === 'shape' && !ink.filled && ink.rings.every(({ length }) => length <= 2 * 4);
  if (name !== '' || isTriangle) return 'other';
  const { box } = ink;
  const width = (box[2] - box[0]) / space;
  const height = (box[3] - box[1]) / space;
  if (width >= 0.95 && width <= 2.1 && height >= 0.8 && height <= 1.25) return 'head';
  if (width >= 0.9 && width <= 1.8 && height >= 0.35 && height <= 0.7) return 'rest';
  return 'other';
}

export function thingsOf(signs: readonly Sign[]): Thing[] {
  return signs.map(({ kind, ink: { box } }) => ({ kind, x0: box[0], x1: box[2], y0: box[1], y1: box[3] }));
}

/** Small and as wide as high; of a glyph that shows two, as SMuFL's repeatDots (U+E043), each. */
export function dotsOf(signs: readonly Sign[], space: number): Dot[] {
  const isDot = ([x0, y0, x1, y1]: PointBox) =>
    Math.abs(x1 - x0 - (y1 - y0)) <= 0.12 * space && x1 - x0 >= 0.2 * space && x1 - x0 <= 0.75 * space;
  const dotsIn = ({ box, rings }: InkShape | InkGlyph) => {
    // Some fonts end an outline with a ring that is nothing but a point.
    const drawn = rings.map((ring) => boxOf([ring])).filter(([x0, , x1]) => x1 - x0 > 0.05 * space);
    return drawn.length === 2 && drawn.every(isDot) ? drawn : [box];
  };
  return signs.flatMap(({ ink }) => {
    // Two dots over each other are no wider than one; other signs need not be looked into.
    const isNarrow = ink.box[2] - ink.box[0] <= 0.75 * space;
    const boxes = isNarrow ? dotsIn(ink) : [ink.box];
    return boxes
      .filter(isDot)
      .map(([x0, y0, x1, y1]) => ({ x: (x0 + x1) / 2, y: (y0 + y1) / 2, width: x1 - x0 }));
  });
}
