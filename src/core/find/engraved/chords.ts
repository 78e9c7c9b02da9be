/** Chord symbols of a system, letter by letter, for telling twins. */
import type { PointBox, StaffParts } from '../types.ts';
import { isOfForm } from './signs.ts';
import type { Sign } from './things.ts';
import type { Letter, Words } from './words.ts';
import { isPlayed, middleX, type SystemInk } from './written.ts';

/** Letters of a chord symbol have no place of their own: they are drawn together to so much of their distance. */
const TOGETHER = 0.02;

/** A letter, accidental or triangle of a chord symbol. */
export interface ChordLetter {
  /** A place within the bar that its chord symbol belongs to: that in which it starts, though its end be over the next. */
  readonly start: number;
  /** Its look, and how many of its symbol stand before it. */
  readonly name: string;
  /** Where it counts: letters stand together however wide the bar is, so at the beginning, each in its turn. */
  readonly box: PointBox;
}

/** @param inWords signs that are parts of words */
export function chordLetters(system: SystemInk, inWords: ReadonlyMap<Sign, Words>): ChordLetter[] {
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
