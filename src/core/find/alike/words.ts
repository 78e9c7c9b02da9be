/** Whether two bars have the same chord symbols, or other words, above the same notes. */
import { cropped, type Grey } from './grey.ts';
import { unpack } from './pack.ts';
import { part, readied, worstOf, type Path, type Ready } from './lay.ts';
import type { WordPicture } from '../types.ts';

/** Words may be moved against their notes, and against each other in height; in pixels. */
const ASIDE = 8;
const LEVEL = 2;
/** A word's foot this close above the top line, in pixels, may say a pitch. */
const NEAR = 6;
/** Words are laid on each other up to so many pixels aside, and are as much wider or higher at most twice over. */
const MOST = 3;

export interface OpenedWord {
  readonly x: number;
  readonly foot: number;
  readonly grey: Grey;
  /** With paper around it, made when it is asked for: the first and the second of a pair. */
  readonly ready: () => Ready;
}

export function openedWord(word: WordPicture): OpenedWord {
  const grey = unpack(word);
  const { width, height } = grey;
  let made: Ready | null = null;
  const pad = 4 * MOST;
  const ready = () => (made ??= readied(cropped(grey, -pad, width + pad, -pad, height + pad)));
  return { x: word.x, foot: word.foot, grey, ready };
}

/** A first look: as many words, of the same sizes and at the same heights. */
export function areWordsAlike(a: readonly OpenedWord[], b: readonly OpenedWord[]): boolean {
  if (a.length !== b.length) return false;
  if (a.length === 0) return true;
  if (!a.every(({ grey }, i) => isSize(grey, b[i]!.grey))) return false;
  const lift = a.map((word, i) => b[i]!.foot - word.foot);
  if (Math.max(...lift) - Math.min(...lift) > LEVEL) return false;
  const isNear = [...a, ...b].some(({ foot }) => foot > -NEAR);
  return !isNear || Math.max(...lift.map(Math.abs)) <= LEVEL;
}

const isSize = (a: Grey, b: Grey) =>
  Math.abs(a.width - b.width) <= 2 * MOST && Math.abs(a.height - b.height) <= 2 * MOST;

/**
 * The most unlike of the words, 0–15; 15 where they stand elsewhere.
 * @param path of the first staff of both bars, at half size
 * @param last column of the first bar, at half size
 */
export function wordsApart(
  a: readonly OpenedWord[],
  b: readonly OpenedWord[],
  path: Path,
  last: number,
): number {
  let worst = 0;
  for (const [i, word] of a.entries()) {
    const other = b[i]!;
    const column = Math.max(0, Math.min(last, word.x));
    const on = path.find(([x]) => x >= column)![1] + word.x - column;
    if (Math.abs(on - other.x) > ASIDE) return 15;
    worst = Math.max(worst, wordApart(word, other));
  }
  return worst;
}

/** How unlike two words are where they lie best on each other, 0–15. */
function wordApart(a: OpenedWord, b: OpenedWord): number {
  const [width, height] = [
    Math.max(a.grey.width, b.grey.width) + 2 * MOST,
    Math.max(a.grey.height, b.grey.height) + 2 * MOST,
  ];
  const still = part(a.ready(), 3 * MOST, 3 * MOST + width, 3 * MOST, 3 * MOST + height);
  const loose = b.ready();
  let best = 15;
  for (let dx = 0; dx <= 2 * MOST; dx++) {
    const path = Array.from({ length: width }, (_, x) => [x, x + 2 * MOST + dx] as const);
    for (let dy = 0; dy <= 2 * MOST; dy++)
      best = Math.min(best, worstOf(still, loose, path, 2 * MOST + dy, best));
  }
  return best;
}
