/** Cuts the picture of every bar out of a straightened system. */
import type { BarParts } from '../bars/bars.ts';
import { kernels, lent } from '../kernels/kernels.ts';
import type { Straight } from '../pixels/straight.ts';
import type { BarLineKind, BarPicture, HeadPicture } from '../types.ts';
import { FINE, FINER } from './grey.ts';
import { pack, packed } from './pack.ts';
import { headOf } from './head.ts';
import { layersOf, REACH, type Staff, type Word } from './layers.ts';

/** Half of what a bar line takes, with its dots, in spaces. */
const HALF: Record<BarLineKind, number> = {
  none: 0,
  single: 0.35,
  double: 0.6,
  final: 0.9,
  'repeat-start': 1.7,
  'repeat-end': 1.7,
  'repeat-both': 1.7,
};
/** Clefs and keys, with an eight above them, begin at most so far above their staff, in spaces; names of sections end there. */
const CLEF = 2.5;
/** Paper before the first sign of a line's music, in pixels. */
const BEFORE = 3;
/** A word begins in a bar when it does so this far behind its left edge, in pixels; closer it may be of either. */
const CLEAR = -1;
const EITHER = -6;
/** A word that reaches this far into the next bar may hide one of its own, in pixels. */
const INTO = 6;
/** What may be left of a bar line stands so close to it, in spaces: dark in that share of the staff's height. */
const LEFT_OVER = 0.8;
const UPRIGHT = 0.9;
const FAINT = 4;
/** Bars in more doubt than this are compared with none. */
const SURE_ENOUGH = 0.5;

export interface Pictures {
  readonly head: HeadPicture | null;
  readonly bars: readonly (BarPicture | null)[];
}

/**
 * @param bars of the system, in the pixels of its straightened picture
 * @param hasMeter a meter was read at its start
 */
export function picturesOf(straight: Straight, bars: readonly BarParts[], hasMeter: boolean): Pictures {
  const { staves, words } = layersOf(straight);
  const scale = straight.unit / FINE;
  const start = Math.min(...straight.ends.map(({ x0 }) => x0)) / scale;
  const head = headOf(staves, start, hasMeter);
  return {
    head: head && { staves: staves.map((staff) => kept(staff, head.begin - 1, head.end + 1, CLEF)) },
    bars: bars.map((bar, i) => {
      const isFirst = i === 0 && bar.left === 'none';
      if (bar.sure < SURE_ENOUGH || (isFirst && head === null)) return null;
      const x0 = isFirst
        ? head!.music - BEFORE
        : behindLine(staves, Math.round(bar.x0 / scale + HALF[bar.left] * FINE), 1);
      const x1 = behindLine(staves, Math.round(bar.x1 / scale - HALF[bar.right] * FINE), -1);
      if (x1 - x0 < FINE) return null;
      const own = wordsIn(words, isFirst ? x0 : bar.x0 / scale, bar.x1 / scale);
      return (
        own && {
          staves: staves.map((staff) => kept(staff, x0, x1)),
          words: own.map((word) => ({ x: word.x0 - x0, foot: word.foot, ...pack(word.picture) })),
        }
      );
    }),
  };
}

/** Words that begin between two bar lines; null when one may belong to the next bar as well. */
function wordsIn(words: readonly Word[], x0: number, x1: number): Word[] | null {
  const isEither = (x: number, edge: number) => x >= edge + EITHER && x < edge + CLEAR;
  const near = words.filter(({ foot }) => foot >= -REACH * FINE);
  if (near.some((word) => isEither(word.x0, x0) || isEither(word.x0, x1))) return null;
  if (near.some((word) => word.x0 < x0 && word.x1 > x0 + INTO)) return null;
  const isOwn = (word: Word) => word.x0 >= x0 + CLEAR && word.x0 < x1 + EITHER;
  // What stands higher belongs to the line before, unless it is all there is.
  const own = near.filter(isOwn);
  return own.length > 0 ? own : words.filter(isOwn);
}

/** The first column from `x` on, towards `step`, behind what may be left of a bar line. */
function behindLine(staves: readonly Staff[], x: number, step: 1 | -1): number {
  let at = x;
  for (let off = 0; off <= LEFT_OVER * FINE; off++)
    if (staves.every((staff) => isUpright(staff, x + off * step))) at = x + (off + 1) * step;
  return at;
}

function isUpright({ picture: { width, height, data }, top }: Staff, x: number): boolean {
  if (x < 0 || x >= width) return false;
  let dark = 0;
  for (let y = top; y <= top + 4 * FINE; y++) if (data[x * height + y]! >= FAINT) dark++;
  return dark >= UPRIGHT * (4 * FINE + 1);
}

/** Columns of a staff, without what stands higher than so many spaces above it; rows without ink left out. */
function kept({ fine, top }: Staff, x0: number, x1: number, above = Infinity) {
  const { height, data } = fine;
  const [from, to] = [Math.max(0, FINER * x0), Math.min(fine.width, FINER * x1)];
  const width = FINER * (x1 - x0);
  const size = width * height;
  const { at, bytes } = lent(size, size);
  const [grey, out] = at;
  bytes.fill(0, grey, grey + size);
  bytes.set(data.subarray(from * height, to * height), grey + (from - FINER * x0) * height);
  const highest = FINER * Math.round(top - above * FINE);
  for (let column = grey; highest > 0 && column < grey + size; column += height)
    bytes.fill(0, column, column + highest);
  const inked = kernels().inkRows(grey, width, height);
  let [y0, y1] = [inked >> 16, inked & 0xffff];
  if (y0 >= y1) [y0, y1] = [FINER * top, FINER * top + 2];
  [y0, y1] = [y0 & ~1, (y1 + 1) & ~1];
  kernels().rowsOf(grey, width, height, y0, y1);
  return { above: FINER * top - y0, ...packed(grey, width, y1 - y0, out) };
}
