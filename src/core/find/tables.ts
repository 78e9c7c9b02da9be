import type { Ink, InkGlyph, PointBox } from './types.ts';

/** Between the lines of staves stand hardly ever more letters: words of how to play. */
const LETTERS = 30;
/**
 * A letter that goes so far, in spaces, over a line to both sides is written upon the staff, as the chords of a chart without
 * notes are. The rows of a table are as high as their words.
 */
const ACROSS = 0.2;

export const isLetter = (one: Ink): one is InkGlyph =>
  one.kind === 'glyph' && /^[\p{L}\d]/u.test(one.unicode);

interface Placed {
  readonly box: PointBox;
}

/** What looks like a staff, in page points. */
export interface Ruled {
  readonly x0: number;
  readonly x1: number;
  /** Top to bottom. */
  readonly lines: readonly number[];
}

/** Text is set between what looks like the lines of staves, and more of it than music: the rules of a table. */
export function isTable(
  staves: readonly Ruled[],
  letters: readonly Placed[],
  music: readonly Placed[],
): boolean {
  const isIn = ({ box: [x0, y0, x1, y1] }: Placed, staff: Ruled) => {
    const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
    return x > staff.x0 && x < staff.x1 && y > staff.lines[0]! && y < staff.lines.at(-1)!;
  };
  const isBetween = (letter: Placed) =>
    staves.some((staff) => isIn(letter, staff) && !isAcross(letter.box, staff.lines));
  const count = letters.filter(isBetween).length;
  return count > LETTERS && count > music.filter((one) => staves.some((staff) => isIn(one, staff))).length;
}

function isAcross([, y0, , y1]: PointBox, lines: readonly number[]): boolean {
  const far = (ACROSS * (lines.at(-1)! - lines[0]!)) / (lines.length - 1);
  return lines.some((line) => y0 < line - far && y1 > line + far);
}
