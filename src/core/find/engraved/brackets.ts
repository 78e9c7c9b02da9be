import type { BarStroke, Bracket, InkGlyph, InkShape, StaffParts } from '../types.ts';
import type { SortedInk } from './fonts.ts';
import type { Straight, Straights } from './straight.ts';
import { topOf } from './systems.ts';
import { ANOTHER_SHAPE } from './things.ts';

/** All in spaces: shortest bracket, its height over the top line, length of its hooks, thickness. */
const SHORTEST = 2.5;
const LOWEST = 0.8;
const HIGHEST = 13;
const HOOK = 0.5;
const LONGEST_HOOK = 3.5;
const THICKEST = 0.35;
/** Clef, key and meter at the start of a line take at most so much room. */
const HEADER = 14;

/** Ending brackets over a system: a line with a hook down at its left and a number, or one that goes on. */
export function bracketsOf(
  staves: readonly StaffParts[],
  { across, upright }: Straights,
  ink: SortedInk,
  ceiling: number,
  strokes: readonly BarStroke[],
): Bracket[] {
  const staff = staves[0]!;
  const { space } = staff;
  const top = topOf(staff);
  const lines = across.filter(
    (line) =>
      line.to - line.from >= SHORTEST * space &&
      line.at <= top - LOWEST * space &&
      line.at >= Math.max(top - HIGHEST * space, ceiling === 0 ? 0 : ceiling + space) &&
      line.thickness <= THICKEST * space &&
      line.from >= staff.x0 - space &&
      line.to <= staff.x1 + 2 * space,
  );
  return lines
    .flatMap((line): Bracket[] => {
      const hookLeft = hasHook(line, line.from, upright, space);
      const hookRight = hasHook(line, line.to, upright, space);
      if (isBoxed(line, across, space)) return [];
      const numbers = numbersUnder(line, ink.glyphs, space);
      // A bracket goes on from the line before: it has no hook and no number, and starts with the staff.
      // Whether one was open there only the chart tells.
      const goesOn = !hookLeft && line.from - staff.x0 <= HEADER * space;
      const isUnread =
        hookLeft &&
        numbers.length === 0 &&
        spansBars(line, staff, strokes) &&
        isUnder(ink.shapes, line, space);
      if (!(hookLeft && numbers.length > 0) && !goesOn && !isUnread) return [];
      return [
        {
          x0: line.from,
          x1: line.to,
          y: line.at,
          hookLeft,
          hookRight,
          numbers: hookLeft ? numbers : [],
          ...(isUnread ? { unread: true as const } : {}),
          sure: hookLeft && !isUnread ? 0.99 : 0.85,
        },
      ];
    })
    .sort((a, b) => a.x0 - b.x0);
}

/** An upright that hangs down from an end of the line. */
function hasHook(line: Straight, x: number, upright: readonly Straight[], space: number): boolean {
  return upright.some(
    (hook) =>
      Math.abs(hook.at - x) <= 0.3 * space &&
      Math.abs(hook.from - line.at) <= 0.4 * space &&
      hook.to - hook.from >= HOOK * space &&
      hook.to - hook.from <= LONGEST_HOOK * space,
  );
}

/** It goes from bar line to bar line, or from behind a line's clef and key: an ending, not notes played in three. */
function spansBars(line: Straight, { x0, x1, space }: StaffParts, strokes: readonly BarStroke[]): boolean {
  const isAt = (x: number) =>
    strokes.some((stroke) => x > stroke.x0 - 1.5 * space && x < stroke.x1 + 1.5 * space);
  const starts = isAt(line.from) || line.from - x0 <= HEADER * space;
  return starts && (isAt(line.to) || line.to > x1 - 1.5 * space);
}

/** Something as high as a number, drawn as outlines, stands right at the hook of a bracket and close under its line. */
function isUnder(shapes: readonly InkShape[], line: Straight, space: number): boolean {
  return shapes.some(({ box: [x0, y0, , y1] }) => {
    const high = y1 - y0;
    return (
      x0 >= line.from &&
      x0 <= line.from + 1.5 * space &&
      y0 >= line.at - 0.2 * space &&
      y0 <= line.at + 1.2 * space &&
      high >= 0.6 * space &&
      high <= 2.2 * space
    );
  });
}

/** The top of a box around a section's name has a bottom. */
function isBoxed(line: Straight, across: readonly Straight[], space: number): boolean {
  return across.some(
    (other) =>
      other.at > line.at + 0.5 * space &&
      other.at < line.at + 4 * space &&
      Math.abs(other.from - line.from) <= 0.4 * space &&
      Math.abs(other.to - line.to) <= 0.4 * space,
  );
}

/** Music fonts name their digits by words. */
const NAMES = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

/** What a glyph says where words are meant: its digit, or its letters. */
export function textOf(glyph: InkGlyph): string {
  const digit = NAMES.indexOf(glyph.name.replace(ANOTHER_SHAPE, '').replace(/^.*\./, ''));
  if (digit >= 0) return String(digit);
  const code = glyph.unicode.codePointAt(0) ?? 0;
  // Time signature digits of SMuFL, U+E080 to U+E089.
  if (code >= 0xe080 && code <= 0xe089) return String(code - 0xe080);
  if (glyph.name === 'period') return '.';
  // Letters that are printed as one stand for themselves: "ﬁ" is "fi".
  return glyph.unicode.replace(/[\u{fb00}-\u{fb06}]/gu, (letter) => letter.normalize('NFKC'));
}

/** Numbers printed under the left end of a bracket: "1.", "1, 2", "1.–3.". */
function numbersUnder(line: Straight, letters: readonly InkGlyph[], space: number): number[] {
  const under = letters
    .filter(({ box: [x0, y0, x1, y1] }) => {
      const y = (y0 + y1) / 2;
      const isUnder = y > line.at - 0.3 * space && y < line.at + 3.2 * space;
      return isUnder && x0 >= line.from - 0.3 * space && x1 <= Math.min(line.to, line.from + 10 * space);
    })
    .sort((a, b) => a.box[0] - b.box[0]);
  for (const first of under) {
    if (first.box[0] > line.from + 4 * space) break;
    const numbers = endingNumbers(isPart(first, under) ? '' : phraseFrom(first, under));
    if (numbers.length > 0) return numbers;
  }
  return [];
}

/** Letters of one line differ in size and in height of their base line by less than these shares of their size. */
const SAME_SIZE = 0.03;
const SAME_LINE = 0.15;

const isAlike = (a: InkGlyph, b: InkGlyph) =>
  Math.abs(a.size - b.size) <= SAME_SIZE * a.size && Math.abs(a.y - b.y) <= SAME_LINE * a.size;

/** It is the raised number of a chord symbol, which ends right before it. */
const isPart = ({ box, size }: InkGlyph, letters: readonly InkGlyph[]) =>
  letters.some(
    (other) =>
      /\p{L}/u.test(other.unicode) &&
      other.box[2] > box[0] - 0.4 * size &&
      other.box[2] < box[0] + 0.2 * size &&
      other.box[0] < box[0],
  );

/** The words that start with a letter: alike, without a hole. A chord symbol may stand below, or even over them. */
function phraseFrom(first: InkGlyph, letters: readonly InkGlyph[]): string {
  let end = first.box[2];
  let text = '';
  for (const glyph of letters) {
    if (glyph.box[0] < first.box[0] || !isAlike(first, glyph)) continue;
    if (glyph.box[0] > end + first.size) break;
    end = Math.max(end, glyph.box[2]);
    text += textOf(glyph);
  }
  return text;
}

/** Numbers of an ending as printed; none when the text does not start with one. */
export function endingNumbers(text: string): number[] {
  const start = /^[\s(]*\d{1,2}(?:[\s.,&+–-]*\d{1,2})*/.exec(text)?.[0];
  if (start === undefined) return [];
  const range = /^\D*(\d{1,2})[.\s]*[–-][.\s]*(\d{1,2})\D*$/.exec(start);
  if (range !== null) {
    const [from, to] = [Number(range[1]), Number(range[2])];
    if (from < to && to - from < 16) return Array.from({ length: to - from + 1 }, (_, i) => from + i);
  }
  const numbers = [...start.matchAll(/\d{1,2}/g)].map(([digits]) => Number(digits));
  return [...new Set(numbers.filter((n) => n >= 1 && n <= 16))].sort((a, b) => a - b);
}
