import { joinedTo, type Joined, type Range } from './joined.ts';

/** Where a cut stands in a picture of more than it, px: its first column and row, the first beyond, and its staves. */
export interface Cutout {
  readonly left: number;
  readonly right: number;
  readonly upper: number;
  readonly lower: number;
  /** Top line of the upper staff and bottom line of the lower one. */
  readonly top: number;
  readonly bottom: number;
  /** Height of one staff. */
  readonly staff: number;
}

/** A word, a syllable or a chord symbol, at a side of a cut; what its upper or lower edge runs through is none. */
export interface Word {
  /** Its ink on either side of the cut's edge: px, row by row. */
  readonly inside: readonly number[];
  readonly outside: readonly number[];
  /** The larger part is inside, or so much that it is worth reading. */
  readonly isOurs: boolean;
}

// All in staff heights; by trial on lyrics and chord symbols of LilyPond and on bold letters that touch, no source.
/** Words are looked for so far to both sides of an edge. */
export const WORD_LOOK = 1.2;
/** Beside the outer lines of the staves stands what is joined to them. */
const BESIDE = 0.12;
/** A letter is no higher and no wider. What is wider, and wider than high by more, is a slur or a bracket, */
const LETTER_HIGH = 1.1;
const LETTER_WIDE = 1.2;
const FLATTEST = 2.5;
/** or letters that touch: those are as high as a small letter, and so much of the box around them is ink. */
const JOINED_HIGH = 0.18;
const JOINED_INK = 0.38;
/** A dot, of an i or behind a word, is no larger. */
const DOT = 0.2;
/** Letters of one word stand no further apart; words do. */
const APART = 0.16;
/** What stands beside a letter is of its word where it shares so much of the lower one's height. */
const BESIDE_SHARE = 0.25;
/** What ends so far inside still stands at the edge. */
const AT_EDGE = 0.2;
/** Of a word that is the neighbour's no more than this is taken away: of which there is more is shown whole by both. */
const MOST_TAKEN = 0.6;

/**
 * Words over and under the staves that stand at the left or the right edge of a cut or that it runs through.
 * @param isInk of a px, by its number row by row
 * @param width of the picture, px
 */
export function wordsAcross(isInk: (at: number) => boolean, width: number, cut: Cutout): readonly Word[] {
  const beside = Math.round(BESIDE * cut.staff);
  const bands = [
    { from: cut.upper, to: cut.top - beside },
    { from: cut.bottom + beside, to: cut.lower },
  ];
  const look = Math.round(WORD_LOOK * cut.staff);
  return (['left', 'right'] as const).flatMap((side) => {
    const edge = cut[side];
    const columns = { from: Math.max(0, edge - look), to: Math.min(width, edge + look) };
    return bands
      .flatMap((rows) => wordsOf(lettersIn(isInk, width, columns, rows, cut.staff), cut.staff))
      .flatMap((letters) => wordAt(letters, edge, side, width, cut.staff) ?? []);
  });
}

/** A word at an edge; null where none of it is inside. */
function wordAt(
  letters: readonly Joined[],
  edge: number,
  side: 'left' | 'right',
  width: number,
  staff: number,
): Word | null {
  const before = edge - Math.min(...letters.map(({ x0 }) => x0));
  const after = Math.max(...letters.map(({ x1 }) => x1)) - edge;
  const [within, beyond] = side === 'left' ? [after, before] : [before, after];
  if (within <= 0 || beyond < -AT_EDGE * staff) return null;
  const isOurs = within >= beyond || within > MOST_TAKEN * staff;
  const places = letters.flatMap((letter) => letter.places);
  const isInside = (at: number) => at % width >= edge === (side === 'left');
  return { inside: places.filter(isInside), outside: places.filter((at) => !isInside(at)), isOurs };
}

/** Joined ink that may be a letter or several: whole in these rows, so not joined to the staff, nor to anything long. */
function lettersIn(
  isInk: (at: number) => boolean,
  width: number,
  columns: Range,
  rows: Range,
  staff: number,
): readonly Joined[] {
  const seen = new Set<number>();
  const letters: Joined[] = [];
  for (let y = rows.from; y < rows.to; y++)
    for (let x = columns.from; x < columns.to; x++) {
      const at = y * width + x;
      if (seen.has(at) || !isInk(at)) continue;
      const letter = joinedTo(at, isInk, width, columns, rows, seen);
      const isWhole = letter.y0 > rows.from && letter.y1 < rows.to;
      if (isWhole && isLetter(letter, staff)) letters.push(letter);
    }
  return letters;
}

function isLetter({ places, x0, x1, y0, y1 }: Joined, staff: number): boolean {
  const [wide, high] = [x1 - x0, y1 - y0];
  if (high > LETTER_HIGH * staff) return false;
  if (wide <= LETTER_WIDE * staff && wide <= FLATTEST * high) return true;
  return high >= JOINED_HIGH * staff && places.length >= JOINED_INK * wide * high;
}

/** Letters by the words they stand in. */
function wordsOf(letters: readonly Joined[], staff: number): readonly (readonly Joined[])[] {
  const words: Joined[][] = [];
  for (const letter of letters) {
    const near = words.filter((word) => word.some((other) => isBeside(letter, other, staff)));
    for (const word of near) words.splice(words.indexOf(word), 1);
    words.push([...near.flat(), letter]);
  }
  return words;
}

function isBeside(a: Joined, b: Joined, staff: number): boolean {
  const apart = Math.max(a.x0, b.x0) - Math.min(a.x1, b.x1);
  const shared = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0);
  const high = Math.min(a.y1 - a.y0, b.y1 - b.y0);
  if (apart <= APART * staff && shared >= BESIDE_SHARE * high) return true;
  // The dot of an i.
  return apart < 0 && -shared <= DOT * staff && (isDot(a, staff) || isDot(b, staff));
}

const isDot = ({ x0, x1, y0, y1 }: Joined, staff: number) => x1 - x0 <= DOT * staff && y1 - y0 <= DOT * staff;
