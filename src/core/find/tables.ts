import type { Ink, PointBox } from './types.ts';

/** Between the lines of staves stand hardly ever more letters: words of how to play, chords of a chart without notes. */
const LETTERS = 30;

/** Text is set between what looks like the lines of staves, and more of it than music: the rules of a table. */
export function isTable(staves: readonly PointBox[], ink: readonly Ink[]): boolean {
  let [letters, others] = [0, 0];
  for (const one of ink) {
    if (one.kind !== 'glyph' && one.kind !== 'shape') continue;
    const [x, y] = [(one.box[0] + one.box[2]) / 2, (one.box[1] + one.box[3]) / 2];
    if (!staves.some(([x0, y0, x1, y1]) => x > x0 && x < x1 && y > y0 && y < y1)) continue;
    if (one.kind === 'glyph' && /^[\p{L}\d]/u.test(one.unicode)) letters++;
    else others++;
  }
  return letters > Math.max(LETTERS, others);
}
