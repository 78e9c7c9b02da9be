import type { Ink, InkGlyph, PointBox } from './types.ts';

/** Between the lines of staves stand hardly ever more letters: words of how to play, chords of a chart without notes. */
const LETTERS = 30;

export const isLetter = (one: Ink): one is InkGlyph =>
  one.kind === 'glyph' && /^[\p{L}\d]/u.test(one.unicode);

interface Placed {
  readonly box: PointBox;
}

/** Text is set between what looks like the lines of staves, and more of it than music: the rules of a table. */
export function isTable(
  staves: readonly PointBox[],
  letters: readonly Placed[],
  music: readonly Placed[],
): boolean {
  const countIn = (all: readonly Placed[]) => {
    const middles = all.map(({ box }) => [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2] as const);
    const isWithin = ([x, y]: readonly [number, number]) =>
      staves.some(([x0, y0, x1, y1]) => x > x0 && x < x1 && y > y0 && y < y1);
    return middles.filter(isWithin).length;
  };
  return countIn(letters) > Math.max(LETTERS, countIn(music));
}
