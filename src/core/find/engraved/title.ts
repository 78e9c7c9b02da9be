import type { PointBox, StaffParts } from '../types.ts';
import type { Around } from './around.ts';
import { isOfForm } from './signs.ts';
import type { Words } from './words.ts';

/** A title is so many times larger than the words around it; in size alone less is told. */
const LARGER = 1.12;
/** Its middle lies this close to the middle of the page or of the system, share of the page's width. */
const CENTRED = 0.08;
/** Words of one line are this close, in sizes. */
const WORD_GAP = 1.2;

/** A chord symbol, though it be the largest over the line. */
const CHORD = /^[A-H][#♯b♭]?(maj|min|dim|aug|sus|add|m|M|[\d()#♯b♭°øΔ+–-])*(\/[A-H][#♯b♭]?)?$/u;

const isOther = (text: string) => CHORD.test(text) || isOfForm(text);

export interface TitleHere {
  readonly text: string;
  readonly box: PointBox;
  readonly sure: number;
}

/**
 * The largest words over the first system of a tune, in the system's own column; null when none stand out or none
 * are letters.
 * @param width of the page
 */
export function titleIn(
  words: readonly Words[],
  { x0, x1, space, lines: staff }: StaffParts,
  { ceiling, left, right }: Around,
  width: number,
): TitleHere | null {
  const isHere = ({ box }: Words) => {
    const x = (box[0] + box[2]) / 2;
    return box[1] > ceiling && box[3] < staff[0]! && x > left && x < right;
  };
  const lines = linesOf(words.filter(isHere));
  // Words over several columns are the page's: only a tune in the first that has no title of its own has theirs.
  const own = lines.filter(({ box }) => {
    const x = (box[0] + box[2]) / 2;
    return !((left > 0 && (box[0] < left || x < x0)) || (right < width && (box[2] > right || x > x1)));
  });
  const middles = [width / 2, (x0 + x1) / 2];
  const isUnderPages = own.length < lines.length;
  const title = titleAmong(own, space, middles, width, isUnderPages);
  return title ?? (isUnderPages && left === 0 ? titleAmong(lines, space, middles, width) : null);
}

/** @param isUnderPages the page has a title, too: what stands out under it is a tune's, wherever it begins */
function titleAmong(
  lines: readonly Line[],
  space: number,
  middles: readonly number[],
  width: number,
  isUnderPages = false,
): TitleHere | null {
  const [first, ...others] = lines
    .filter(({ text }) => /\p{L}{2,}/u.test(text) || /\p{L}.*\p{L}/u.test(text))
    .sort((a, b) => b.size - a.size || a.box[1] - b.box[1]);
  if (first === undefined) return null;
  const at = (first.box[0] + first.box[2]) / 2;
  const isCentred = middles.some((middle) => Math.abs(at - middle) <= CENTRED * width);
  const standsOut = others.every(({ size }) => first.size >= LARGER * size);
  const isHighest = others.every(({ box }) => box[1] >= first.box[1] - first.size);
  // Chord symbols stand right over the staff; a title that is no larger than they are is none.
  const isLarge = first.size >= 1.8 * space;
  if (first.boxed || isOther(first.text) || !isLarge || !(isCentred || (standsOut && isHighest))) return null;
  const sure =
    standsOut && isCentred ? 0.97 : standsOut && isUnderPages ? 0.92 : isCentred && isHighest ? 0.85 : 0.7;
  return { text: first.text.replace(/\s+/g, ' ').trim(), box: first.box, sure };
}

type Line = Pick<Words, 'text' | 'box' | 'size' | 'boxed'>;

/** Words of the same size on one base line as one. */
function linesOf(words: readonly Words[]): Line[] {
  const lines: Line[] = [];
  for (const word of [...words].sort((a, b) => a.box[0] - b.box[0])) {
    const at = lines.findIndex(
      ({ box, size }) =>
        Math.abs(size - word.size) < 0.06 * size &&
        Math.abs(box[3] - word.box[3]) < 0.35 * size &&
        word.box[0] - box[2] < WORD_GAP * size &&
        word.box[0] >= box[2] - 0.2 * size,
    );
    const line = lines[at];
    if (line === undefined) lines.push(word);
    else
      lines[at] = {
        ...line,
        text: `${line.text} ${word.text}`,
        box: [
          line.box[0],
          Math.min(line.box[1], word.box[1]),
          word.box[2],
          Math.max(line.box[3], word.box[3]),
        ],
      };
  }
  return lines;
}
