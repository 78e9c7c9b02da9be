import type { BarLineKind } from '../types.ts';
import { chancesOf, type Chances } from './chances.ts';
import { withDots } from './repeat-dots.ts';
import { EVERY, FIRST, SAID } from './shapes.ts';
import type { Straight } from './straight.ts';
import { withStrokes } from './strokes.ts';
import { goesThrough } from './through.ts';

/** Places closer than this, in spaces, say one bar line together; bar lines are further apart than a bar is narrow. */
const TOGETHER = 1;
const NARROWEST = 2.5;
/** Below this chance nothing is a bar line; below that, not even a doubt. */
const LIKELY = 0.5;
const DOUBTFUL = 0.02;
/** What does not go through the staff is hardly one: so much of its chance is left. */
const BROKEN = 0.2;
/** A kind that a rule has settled otherwise than the net is at most so sure. */
const BY_RULE = 0.8;
/** A bar line stands at most so many spaces before the start and beyond the end of the staves. */
const BEFORE = 0.5;
const BEYOND = 2.5;

/** A place where the net sees a bar line. */
export interface Barline {
  /** Its middle, a column of the straightened picture. */
  readonly x: number;
  readonly kind: BarLineKind;
  /** The chance, 0–1, that a bar line stands there, and that it is of this kind when one does. */
  readonly chance: number;
  readonly kindChance: number;
}

/** The bar lines of a system, left to right, and places that may hold one after all. */
export interface Lines {
  readonly barlines: readonly Barline[];
  readonly doubts: readonly Barline[];
}

export function barlinesOf(straight: Straight): Lines {
  const { unit, ends } = straight;
  const from = Math.min(...ends.map(({ x0 }) => x0)) - BEFORE * unit;
  const to = Math.max(...ends.map(({ x1 }) => x1)) + BEYOND * unit;
  const seen = placesIn(chancesOf(straight), Math.round((TOGETHER * unit) / EVERY))
    .filter(({ x }) => x > from && x < to)
    .map((one) => (isBroken(straight, one) ? { ...one, chance: BROKEN * one.chance } : one))
    .sort((a, b) => b.chance - a.chance);
  const barlines: Barline[] = [];
  for (const one of seen)
    if (one.chance >= LIKELY && barlines.every(({ x }) => Math.abs(x - one.x) > NARROWEST * unit))
      barlines.push(one);
  // What stands at a bar line parts nothing.
  const doubts = seen.filter((one) => barlines.every(({ x }) => Math.abs(x - one.x) > NARROWEST * unit));
  const kinds = barlines.map((one): Barline => {
    const kind = withStrokes(straight, one.x, withDots(straight, one.x, one.kind, one.kindChance));
    return kind === one.kind ? one : { ...one, kind, kindChance: Math.min(one.kindChance, BY_RULE) };
  });
  return { barlines: kinds.sort((a, b) => a.x - b.x), doubts };
}

const isBroken = (straight: Straight, { x, kind, chance }: Barline) =>
  chance >= LIKELY && kind === 'single' && !goesThrough(straight, x);

/** Peaks of the chance of any bar line, `reach` places around each belonging to it. */
function placesIn(chances: Chances, reach: number): Barline[] {
  const none = chances[0]!;
  const found: Barline[] = [];
  for (let at = 0; at < none.length; at++) {
    const [first, last] = [Math.max(0, at - reach), Math.min(none.length - 1, at + reach)];
    let isPeak = 1 - none[at]! >= DOUBTFUL;
    for (let x = first; isPeak && x <= last; x++)
      if (none[x]! < none[at]! || (none[x] === none[at] && x < at)) isPeak = false;
    if (!isPeak) continue;
    const sums = chances.map(() => 0);
    let moment = 0;
    for (let x = first; x <= last; x++) {
      chances.forEach((row, c) => (sums[c]! += row[x]!));
      moment += (1 - none[x]!) * x;
    }
    const all = sums.slice(1).reduce((a, b) => a + b, 0);
    const most = Math.max(...sums.slice(1));
    found.push({
      x: (moment / all) * EVERY + FIRST,
      kind: SAID[sums.indexOf(most, 1)]!,
      chance: 1 - none[at]!,
      kindChance: most / all,
    });
  }
  return found;
}
