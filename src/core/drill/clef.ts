/** Staff heights from the start of a line that are looked at for its clef and key signature. */
export const CLEF_LOOK = 4;
/**
 * White this wide, in staff spaces, ends the clef and its signatures: LilyPond sets clef, key and time signature
 * 0.8 to 1.2 spaces apart and 2 or more before the first note; other engravers are close to it.
 */
const WIDE = 1.5;
/** Of that white so much is kept, in staff spaces. */
const KEPT = 0.75;
/** Anything narrower than this, in staff spaces, is a bar line or a bracket at the edge, or a speck. */
const SPECK = 0.5;
/** How much more ink than the bare staff makes a column one of a sign, in staff heights. */
const SIGN = 0.08;
/** White between the digits of one time signature is narrower than this, between signs it is wider; staff spaces. */
const APART = 0.7;
/** The first signs of a line that may be its time signature: a clef comes before it, and perhaps a key. */
const MOST_BEFORE = 2;
/** A time signature is no wider than 12/8, staff spaces. */
const WIDEST_METER = 3.2;
/**
 * Two digits over each other fill every space of the staff; a note has its head in one or two, a stem in the others.
 * In squares of a staff space, measured on five engravers: digits 0.45 and more, a space beside a head 0.3 at most.
 */
const FILLED = 0.4;
/** 2 over 2 has its ink at the top and at the bottom, as much here as there; the same unit, and share. */
const FLAT = 1;
const ALIKE = 0.6;

/** Ink of a column in each space of the staff, the upper one first: 0 none to 1 black. */
export type SpaceInk = readonly [number, number, number, number];

/** Columns, the last outside. */
interface Sign {
  readonly from: number;
  readonly to: number;
}

/**
 * Where the clef, the key and the time signature of a line end, so that no sign is cut through.
 * @param ink of each column from the line's start on
 * @param staff height of the staff in columns
 * @returns columns from the line's start; null where no end is seen
 */
export function clefEnd(ink: readonly SpaceInk[], staff: number): number | null {
  const space = staff / 4;
  const signs = signsOf(ink, space);
  const whiteAfter = (sign: number) => (signs[sign + 1]?.from ?? ink.length) - signs[sign]!.to;
  const first = signs.findIndex(({ from, to }) => to - from >= SPECK * space);
  if (first < 0) return null;
  const meter = signs
    .slice(first + 1, first + 1 + MOST_BEFORE)
    .findIndex((sign) => isMeter(ink, sign, space));
  const last =
    meter >= 0 ? first + 1 + meter : signs.findIndex((_, i) => i >= first && whiteAfter(i) >= WIDE * space);
  if (last < 0) return null;
  return signs[last]!.to + Math.min(whiteAfter(last) / 2, KEPT * space);
}

/** Ink that stands together, left to right. */
function signsOf(ink: readonly SpaceInk[], space: number): readonly Sign[] {
  const whole = ink.map((column) => sum(column) / 4);
  const bare = bareOf(whole);
  const signs: { from: number; to: number }[] = [];
  for (const [x, share] of whole.entries()) {
    if (share <= bare + SIGN) continue;
    const last = signs.at(-1);
    if (last && x - last.to < APART * space) last.to = x + 1;
    else signs.push({ from: x, to: x + 1 });
  }
  return signs;
}

/** Whether a sign is a time signature of two digits. */
function isMeter(ink: readonly SpaceInk[], { from, to }: Sign, space: number): boolean {
  if (to - from > WIDEST_METER * space) return false;
  const [first, second, third, last] = [0, 1, 2, 3].map((at) => {
    const bare = bareOf(ink.map((column) => column[at]!));
    return sum(ink.slice(from, to).map((column) => Math.max(0, column[at]! - bare))) / space;
  }) as [number, number, number, number];
  const isAlike = (a: number, b: number) => Math.min(a, b) >= ALIKE * Math.max(a, b);
  const isTwoTwo = first >= FLAT && isAlike(first, last) && isAlike(second, third);
  return Math.min(first, second, third, last) >= FILLED || isTwoTwo;
}

/** What the staff's own lines make of most columns. */
const bareOf = (shares: readonly number[]) =>
  [...shares].sort((a, b) => a - b)[Math.floor(shares.length / 5)] ?? 0;

const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
