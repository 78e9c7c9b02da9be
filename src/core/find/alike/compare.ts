/** Whether two pictures of bars show the same music. */
import type { BarPicture, HeadPicture, StaffPicture } from '../types.ts';
import { coarse, cropped, FINE, FINER, type Grey } from './grey.ts';
import { unpack } from './pack.ts';
import { aligned, part, readied, refined, worstOf, type Path, type Ready } from './lay.ts';
import { areWordsAlike, openedWord, wordsApart, type OpenedWord } from './words.ts';

/** The largest difference that the same music may show, a mean over half a space, 0–15: measured on scans of the corpus. */
const STAVES = 2.8;
const WORDS = 1.1;
const HEADS = 4;
/** Bars less unlike than this are likely to be the same: enough to ask. */
export const NEARLY = 8;
/** Ink of the same music, row by row: it differs by no more than this share, or so many pixels. */
const MORE_INK = 0.35;
const SOME_INK = 16;
/** Rows that are told apart above and below the top line. */
const HIGHEST = 84;
/** Rows of paper above and below, even as those of pictures are. */
const PAD = 2;

interface Opened {
  readonly above: number;
  readonly height: number;
  /** With paper above and below, made when it is asked for. */
  readonly ready: () => Ready;
  /** At half its size, for laying on. */
  readonly coarse: Grey;
  /** Ink of each row from `HIGHEST` above the top line down, in coarse pixels; rows of staff lines are left out. */
  readonly rows: Float32Array;
}

/** A bar ready to be compared. */
export interface OpenedBar {
  readonly staves: readonly Opened[];
  readonly words: readonly OpenedWord[];
}

export const opened = ({ staves, words }: BarPicture): OpenedBar => ({
  staves: staves.map(openedStaff),
  words: words.map(openedWord),
});

function openedStaff(staff: StaffPicture): Opened {
  const grey = unpack(staff);
  const half = coarse(grey);
  const { width, height, data } = half;
  const rows = new Float32Array(2 * HIGHEST);
  for (let y = 0; y < height; y++) {
    const place = y - staff.above / FINER;
    const off = Math.abs(place - FINE * Math.round(place / FINE));
    if (place > -2 && place < 4 * FINE + 2 && off <= 1) continue;
    const at = Math.max(0, Math.min(rows.length - 1, place + HIGHEST));
    for (let x = 0; x < width; x++) rows[at]! += data[x * height + y]! / 15;
  }
  let made: Ready | null = null;
  const ready = () => (made ??= readied(cropped(grey, 0, grey.width, -PAD, grey.height + PAD)));
  return { above: staff.above, height: grey.height, ready, coarse: half, rows };
}

/**
 * How unlike two bars are: of their staves and of their words, 0–15; 15 where they cannot be laid on each other.
 * @param most words are not looked at where a staff is more unlike than this
 */
export function unlikeness(
  a: OpenedBar,
  b: OpenedBar,
  most = STAVES,
): { readonly staves: number; readonly words: number } {
  const none = { staves: 15, words: 15 };
  if (a.staves.length !== b.staves.length || !areWordsAlike(a.words, b.words)) return none;
  if (!a.staves.every((staff, k) => isInkAlike(staff, b.staves[k]!))) return none;
  const paths: Path[] = [];
  let worst = 0;
  for (const [k, one] of a.staves.entries()) {
    const both = laid(one, b.staves[k]!);
    if (both === null || both.worst > most) return { staves: both?.worst ?? 15, words: 15 };
    paths.push(both.path);
    worst = Math.max(worst, both.worst);
  }
  return { staves: worst, words: wordsApart(a.words, b.words, paths[0]!, a.staves[0]!.coarse.width - 1) };
}

export function isAlike(a: OpenedBar, b: OpenedBar): boolean {
  const { staves, words } = unlikeness(a, b);
  return staves <= STAVES && words <= WORDS;
}

/** The beginning of a line ready to be compared. */
export const openedHead = ({ staves }: HeadPicture) => staves.map(openedStaff);

/** How unlike the beginnings of two lines are, 0–15. */
function headApart(a: readonly Opened[], b: readonly Opened[]): number {
  if (a.length !== b.length) return 15;
  return Math.max(...a.map((staff, k) => laid(staff, b[k]!)?.worst ?? 15));
}

/** Whether two lines begin with the same clefs and the same key. */
export const isSameHead = (a: readonly Opened[], b: readonly Opened[]) => headApart(a, b) <= HEADS;

/** Where the two lie on each other, and how unlike they are then, 0–15; null: they do not fit. */
function laid(a: Opened, b: Opened): { readonly path: Path; readonly worst: number } | null {
  const above = Math.max(a.above, b.above) + PAD;
  const below = Math.max(a.height - a.above, b.height - b.above) + PAD;
  const rows = ({ coarse: half, above: own }: Opened) =>
    cropped(half, 0, half.width, (own - above) / FINER, (own + below) / FINER);
  const path = aligned(rows(a), rows(b));
  if (path === null) return null;
  const fine = (one: Opened) => {
    const ready = one.ready();
    return part(ready, 0, ready.grey.width, PAD + one.above - above, PAD + one.above + below);
  };
  return { path, worst: worstOf(fine(a), fine(b), refined(path)) };
}

/** A first look: about as much ink in every row, however far apart it stands. */
function isInkAlike({ rows: a }: Opened, { rows: b }: Opened): boolean {
  let [off, one, other] = [0, 0, 0];
  // Rows are taken together in threes: a staff may lie half a pixel higher here than there.
  for (let y = 1; y < a.length - 1; y++) {
    off += Math.abs(a[y - 1]! + a[y]! + a[y + 1]! - b[y - 1]! - b[y]! - b[y + 1]!) / 3;
    one += a[y]!;
    other += b[y]!;
  }
  return off <= Math.max(SOME_INK, MORE_INK * Math.max(one, other));
}
