import { onStaff, staffAt, type BarParts } from '../bars/bars.ts';
import type { BarContent, ContentItem, PointBox, StaffParts } from '../types.ts';
import { isOfForm } from './signs.ts';
import type { SystemKey } from './keys.ts';
import { countsIn } from './reading.ts';
import type { Straight } from './straight.ts';
import { flagOf, hasVoices, isBeam, isLevelBeam, stemAt, stemOf } from './stems.ts';
import type { Sign } from './things.ts';
import { partsOfWords, type Letter, type Words } from './words.ts';
import { isInStaff, isPlayed, middleX, middleY, type SystemInk } from './written.ts';

/** How far heights of leaning beams, of stems' far ends and of slurs may differ in the same music. */
const BEAM = 0.9;
const CURVE = 1.6;
const ANY_HEIGHT = 99;
/** An accidental stands so close, in spaces, before its note, and a dot behind it. */
const BESIDE = 0.8;
/** A bar whose edges are in more doubt than this is compared with none. */
const SURE_ENOUGH = 0.85;

/** What stands in each bar of a system, for telling twins. */
export function contentsOf(system: SystemInk, { key, signs: header }: SystemKey): (BarContent | null)[] {
  const inWords = partsOfWords(system.pageWords, loose(system));
  const frames = framesIn(system);
  const isFramed = (sign: Sign) => frames.some((frame) => isIn(sign.ink.box, frame));
  const signs = system.signs.filter((sign) => !header.has(sign) && !inWords.has(sign) && !isFramed(sign));
  const music: Music = { signs, uprights: longUprights(system), letters: chordLetters(system, inWords) };
  return system.bars.map((bar) =>
    key === null || bar.sure < SURE_ENOUGH ? null : contentOf(system, bar, music, key),
  );
}

/** What may be the music of a system's bars. */
interface Music {
  readonly signs: readonly Sign[];
  /** Stems, and bar lines with them. */
  readonly uprights: readonly Straight[];
  readonly letters: readonly ChordLetter[];
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
  const isBeside = (sign: Sign) =>
    heads.some((head) => {
      const level = Math.abs(middleY(head) - middleY(sign)) < space;
      const before = head.ink.box[0] - sign.ink.box[2];
      const behind = sign.ink.box[0] - head.ink.box[2];
      const gap = sign.kind === 'accidental' ? before : isDot(sign.ink.box, space) ? behind : Infinity;
      return level && gap > -0.2 * space && gap < BESIDE * space;
    });
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

function contentOf(system: SystemInk, bar: BarParts, music: Music, key: string): BarContent | null {
  const { staves, lines } = system;
  const ends = bar.edges?.flat() ?? [bar.x0, bar.x1];
  const [left, right] = [Math.min(...ends), Math.max(...ends)];
  const signs = music.signs.filter(({ ink: { box } }) => box[2] >= left && box[0] <= right);
  const { space } = staves[0]!;
  /** The bar on the staff that something at this height belongs to. */
  const barAt = (y: number) => onStaff(bar, staffAt(staves, y));
  const isHere = (x: number, y: number) => x > barAt(y).x0 && x < barAt(y).x1;
  const item = (name: string, box: PointBox, slack: number): ContentItem => {
    const staff = staffAt(staves, (box[1] + box[3]) / 2);
    const top = staves[staff]!.lines[0]!;
    const { x0 } = onStaff(bar, staff);
    const x = (value: number) => (value - x0) / space;
    const y = (value: number) => (value - top) / space;
    return { name, staff, x0: x(box[0]), x1: x(box[2]), y0: y(box[1]), y1: y(box[3]), slack };
  };
  const heads = signs.filter((sign) => sign.kind === 'head' && isHere(middleX(sign), middleY(sign)));
  const [top, bottom] = system.reach;
  const uprights = music.uprights.filter(({ at, from, to }) => {
    const own = barAt((from + to) / 2);
    return at > own.x0 + 0.45 * space && at < own.x1 - 0.45 * space;
  });
  const played = signs.filter((sign) => isPlayed(sign) && isHere(middleX(sign), middleY(sign)));
  /** A rest of a whole bar is set to its middle. */
  const isAlone = (sign: Sign) =>
    (sign.kind === 'rest' || sign.kind === 'multi-rest') &&
    played.every(
      (other) => other === sign || staffAt(staves, middleY(other)) !== staffAt(staves, middleY(sign)),
    );
  const items: ContentItem[] = [];
  const counted = new Map<ContentItem, ContentItem>();
  const stems = uprights.flatMap((line) => stemOf(line, heads, space, uprights) ?? []);
  const voices = staves.map((_, staff) => hasVoices(stems, staves, staff));
  /** A beam or flag counts where its stem's head is, at any height; where it is drawn when its way tells a voice. */
  const hung = (name: string, box: PointBox, slack: number, drawn = name): void => {
    const stem = stemAt(box, stems, space);
    const one = item(drawn, box, slack);
    items.push(one);
    if (stem === undefined || voices[staffAt(staves, stem.box[1])]!) return;
    const x = box[0] + stem.box[0] - stem.at;
    counted.set(one, item(name, [x, stem.box[1], x, stem.box[1]], ANY_HEIGHT));
  };
  const over: [boolean, boolean] = [false, false];
  for (const sign of signs) {
    const { box } = sign.ink;
    if (isCurve(sign, space)) {
      const own = barAt(middleY(sign));
      if (box[2] < own.x0 || box[0] > own.x1) continue;
      const side = curveOver(box, own, heads, space);
      over[0] ||= side[0];
      over[1] ||= side[1];
      if (!side[0] && !side[1]) items.push(item('curve', box, CURVE));
      continue;
    }
    const own = barAt(middleY(sign));
    if (!isHere(middleX(sign), middleY(sign)) || isBesideMusic(sign, own, system, space)) continue;
    const slack = isNear(sign, system) ? 0 : CURVE;
    if (isBeam(sign, space) || isLevelBeam(sign, stems, space)) hung('beam', box, BEAM);
    else if (sign.ink.kind === 'shape' && !sign.ink.filled) continue;
    else if (flagOf(sign.name) !== '') hung(flagOf(sign.name), box, slack, sign.ink.outline);
    else
      items.push({
        ...item(sign.ink.outline, box, slack),
        ...(isAlone(sign) && { anywhere: true as const }),
      });
  }
  for (const line of uprights) {
    const stem = stemOf(line, heads, space, uprights);
    if (stem === null) continue;
    const isDrawn = voices[staffAt(staves, stem.box[1])]!;
    items.push(item('stem', isDrawn ? [line.at, line.from, line.at, line.to] : stem.box, BEAM));
  }
  for (const { at, from, to, thickness } of lines.across)
    if (
      isHere((from + to) / 2, at) &&
      at > top &&
      at < bottom &&
      thickness > 0.3 * space &&
      to - from < bar.x1 - bar.x0
    )
      hung('beam', [from, at, to, at], BEAM);
  for (const { letters, box } of countsIn(system, bar)) {
    const looks = letters.map(({ look }) => look).join(' ');
    items.push({ ...item(`count ${looks}`, box, ANY_HEIGHT), anywhere: true });
  }
  for (const { start, name, box } of music.letters)
    if (isHere(start, box[3])) items.push(item(name, box, ANY_HEIGHT));
  return {
    items: once(items).map((one) => counted.get(one) ?? one),
    key,
    over,
    width: (bar.x1 - bar.x0) / space,
    ...(bar.edges && { apart: true as const }),
  };
}

/** A beam or slur that is filled and stroked counts once. */
function once(items: readonly ContentItem[]): ContentItem[] {
  const close = (a: number, b: number) => Math.abs(a - b) < 0.3;
  return items.filter(
    (one, i) =>
      !items.some(
        (other, j) =>
          j < i &&
          other.name === one.name &&
          close(other.x0, one.x0) &&
          close(other.x1, one.x1) &&
          close(other.y0, one.y0) &&
          close(other.y1, one.y1),
      ),
  );
}

/** Repeat dots, a meter, signs of the form and bar numbers are no music. */
function isBesideMusic(sign: Sign, bar: BarParts, { staves, formSigns }: SystemInk, space: number): boolean {
  if (/segno|coda/i.test(sign.name)) return true;
  if (sign.kind === 'other' && formSigns.some(({ ink }) => isPieceOf(sign.ink.box, ink.box))) return true;
  const inStaff = isInStaff(sign, staves);
  if (sign.kind === 'time') return inStaff || sign.ink.kind === 'glyph';
  if (!inStaff) return false;
  const [x0, , x1] = sign.ink.box;
  const isSmall = x1 - x0 < 0.75 * space;
  const nearEdge = Math.min(middleX(sign) - bar.x0, bar.x1 - middleX(sign)) < 2.2 * space;
  const repeats = bar.left.startsWith('repeat') || bar.right.startsWith('repeat');
  const { lines } = staves[staffAt(staves, middleY(sign))]!;
  const off = Math.abs(Math.abs(middleY(sign) - (lines[0]! + lines.at(-1)!) / 2) - 0.5 * space);
  return repeats && isSmall && nearEdge && off < 0.15 * space;
}

/** Dots and strokes of a segno stand beside its S, at most so many of its heights off. */
const PIECE = 0.5;

function isPieceOf(box: PointBox, [x0, y0, x1, y1]: PointBox): boolean {
  const off = PIECE * (y1 - y0);
  return box[0] >= x0 - off && box[2] <= x1 + off && box[1] >= y0 - 0.1 * off && box[3] <= y1 + 0.1 * off;
}

/** Notes and what belongs to them; what stands further off is set at any height. */
function isNear(sign: Sign, { staves }: SystemInk): boolean {
  if (sign.kind === 'head' || sign.kind === 'rest' || sign.kind === 'accidental') return true;
  const { lines, space } = staves[staffAt(staves, middleY(sign))]!;
  const y = middleY(sign);
  return y > lines[0]! - 3 * space && y < lines.at(-1)! + 3 * space;
}

/** A tie or slur: wide, and thin for its width. */
export function isCurve({ ink, name, kind }: Sign, space: number): boolean {
  if (ink.kind !== 'shape' || name !== '' || kind === 'multi-rest') return false;
  const [width, height] = [ink.box[2] - ink.box[0], ink.box[3] - ink.box[1]];
  const points = ink.rings[0]?.length ?? 0;
  return width > 1.1 * space && height < 0.8 * width && points > 10;
}

/** Which edges of a bar a curve goes over: it does not end at a note of the bar. */
function curveOver(box: PointBox, bar: BarParts, heads: readonly Sign[], space: number): [boolean, boolean] {
  const xs = heads.map(middleX);
  const first = Math.min(...xs, bar.x1);
  const last = Math.max(...xs, bar.x0);
  return [box[0] < first - 0.9 * space, box[2] > last + 0.9 * space];
}

/** Letters of a chord symbol have no place of their own: they are drawn together to so much of their distance. */
const TOGETHER = 0.02;

/** A letter, accidental or triangle of a chord symbol. */
interface ChordLetter {
  /** A place within the bar that its chord symbol belongs to: that in which it starts, though its end be over the next. */
  readonly start: number;
  /** Its look, and how many of its symbol stand before it. */
  readonly name: string;
  /** Where it counts: letters stand together however wide the bar is, so at the beginning, each in its turn. */
  readonly box: PointBox;
}

function chordLetters(system: SystemInk, inWords: ReadonlyMap<Sign, Words>): ChordLetter[] {
  /** The ring of a coda sign may be a letter. */
  const isOfSign = (box: PointBox) => system.formSigns.some(({ ink }) => ink.box === box);
  return system.words
    .filter((word) => isChord(word, system.staves[0]!))
    .flatMap((word) => {
      const parts = [...inWords].flatMap(([{ ink }, of]): Letter[] =>
        of === word ? [{ text: '', look: ink.outline, box: ink.box }] : [],
      );
      return symbolsIn([...word.letters, ...parts].filter(({ box }) => !isOfSign(box)));
    })
    .flatMap((symbol) => {
      const first = symbol[0]!.box[0];
      const start = chordStart(first, system);
      return symbol.map(({ look, box }): ChordLetter => {
        const before = symbol.filter((other) => (other.box[0] + other.box[2]) / 2 < box[0]).length;
        const x = first + TOGETHER * (box[0] - first);
        return { start, name: `letter ${before} ${look}`, box: [x, box[1], box[2], box[3]] };
      });
    });
}

/** Letters of a word as those of its chord symbols, left to right: each begins with a root, a bass stands behind a stroke. */
function symbolsIn(letters: readonly Letter[]): Letter[][] {
  const symbols: Letter[][] = [];
  let before = '/';
  for (const letter of [...letters].sort((a, b) => a.box[0] - b.box[0])) {
    const { text } = letter;
    if (symbols.length === 0 || (/^[A-H]/.test(text) && before !== '/')) symbols.push([]);
    symbols.at(-1)!.push(letter);
    if (text !== '') before = text;
  }
  return symbols;
}

/** A chord symbol that is centred on the first note of a bar stands at most so far, in spaces, over its bar line. */
const AHEAD = 1.2;
/** A note that a chord symbol at the end of a bar may belong to reaches so near to the bar line. */
const LAST = 0.8;

/** A place within the bar that a chord symbol belongs to, for one whose ink begins at `x`. */
function chordStart(x: number, { bars, signs, staves }: SystemInk): number {
  const { space } = staves[0]!;
  const next = bars.find((bar) => bar.x0 > x && bar.x0 - x <= AHEAD * space)?.x0;
  if (next === undefined) return x + 0.3 * space;
  const isHeld = signs.some((sign) => {
    const right = sign.ink.box[2];
    return isPlayed(sign) && middleX(sign) < next && right > Math.min(x, next - LAST * space);
  });
  return (isHeld ? x : next) + 0.3 * space;
}

/**
 * A chord symbol, as far as it can be told: no number, no word of the form, nothing in a box. It stands over the
 * first staff, or even in it: over a whole note on its lowest lines.
 */
function isChord({ text, boxed, box }: Words, { lines }: StaffParts): boolean {
  if (boxed || (box[1] + box[3]) / 2 > lines.at(-1)! || isOfForm(text)) return false;
  if (/^[\d\s.,()–-]*$/.test(text)) return false;
  return !/\p{L}{4,}/u.test(text) || /^[A-H]/.test(text);
}
