import { onStaff, staffAt, type BarParts } from '../bars/bars.ts';
import type { StaffParts } from '../types.ts';
import { isBeam } from './stems.ts';
import type { Sign } from './things.ts';
import { isInStaff, middleX, middleY, type SystemInk } from './written.ts';

/** In spaces: how far a stem stands from the side of its head, a flag or a beam from its stem. */
const BESIDE = 0.3;
const AT = 0.35;
/** Heads of one chord. */
const COLUMN = 0.6;

/** Quarters that rests fill, by name; another rest may fill any bar. */
export const RESTS: readonly (readonly [RegExp, number])[] = [
  [/^(restQuarter|rests\.2)/, 1],
  [/^(rest8th|rests\.3)/, 0.5],
  [/^(rest16th|rests\.4)/, 0.25],
];

/** How wide and high a rest may be, in spaces. */
const WIDE = [0.5, 1.6] as const;
const HIGH = [1, 3.6] as const;

/** A sign of a music font in a staff that is not known and may be a rest. */
export function mayBeRest(sign: Sign, staves: readonly StaffParts[], space: number): boolean {
  const { kind, name, ink } = sign;
  if (ink.kind !== 'glyph' || kind !== 'other' || name !== '' || !isInStaff(sign, staves)) return false;
  const [width, height] = [(ink.box[2] - ink.box[0]) / space, (ink.box[3] - ink.box[1]) / space];
  return width >= WIDE[0] && width <= WIDE[1] && height >= HIGH[0] && height <= HIGH[1];
}

interface Stem {
  readonly x: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Quarters that the notes and rests of a bar fill, read off heads, stems, flags, beams and dots on the staff where
 * they fill least; null when anything is in doubt. One voice to a staff.
 */
export function quartersOf(system: SystemInk, bar: BarParts): number | null {
  const sums = system.staves.map((_, staff) => sumOn(system, bar, staff)).filter((sum) => sum !== 0);
  if (sums.length === 0) return null;
  return sums.reduce<number | null>(
    (least, sum) => (least === null || sum === null ? null : Math.min(least, sum)),
    Infinity,
  );
}

function sumOn(system: SystemInk, bar: BarParts, staff: number): number | null {
  const { staves, signs } = system;
  const { space } = staves[staff]!;
  const { x0, x1 } = onStaff(bar, staff);
  const isHere = (sign: Sign) =>
    middleX(sign) > x0 && middleX(sign) < x1 && staffAt(staves, middleY(sign)) === staff;
  const own = signs
    .filter((sign) => (sign.kind === 'head' || sign.kind === 'rest') && isHere(sign))
    .sort((a, b) => middleX(a) - middleX(b));
  if (signs.some((sign) => mayBeRest(sign, staves, space) && isHere(sign))) return null;
  let sum = 0;
  let before = -Infinity;
  for (const sign of own) {
    if (middleX(sign) - before < COLUMN * space) continue;
    before = middleX(sign);
    const plain = sign.kind === 'rest' ? restLength(sign) : headLength(sign, system, space);
    if (plain === null) return null;
    sum += dotted(plain, sign, signs, space);
  }
  return sum;
}

const restLength = ({ name }: Sign) => RESTS.find(([pattern]) => pattern.test(name))?.[1] ?? null;

function headLength(head: Sign, system: SystemInk, space: number): number | null {
  if (head.length !== undefined) return head.length;
  const stem = stemOf(head, system, space);
  const isHollow = head.ink.rings.length > 1 || /half|whole|s0|s1/i.test(head.name);
  if (stem === null) return isHollow ? 4 : null;
  if (isHollow) return 2;
  return 0.5 ** tailsOf(stem, system, space);
}

function stemOf(head: Sign, { lines }: SystemInk, space: number): Stem | null {
  const { box } = head.ink;
  const y = middleY(head);
  const line = lines.upright.find(
    ({ at, from, to }) =>
      Math.min(Math.abs(at - box[0]), Math.abs(at - box[2])) < BESIDE * space &&
      to - from > 1.8 * space &&
      to - from < 12 * space &&
      y > from - 0.7 * space &&
      y < to + 0.7 * space,
  );
  return line === undefined ? null : { x: line.at, from: line.from, to: line.to };
}

/** Flags or beams of a stem. A sixteenth's flag is one sign. */
function tailsOf({ x, from, to }: Stem, { signs, lines }: SystemInk, space: number): number {
  const touches = (y: number) => y > from - 0.8 * space && y < to + 0.8 * space;
  const flag = signs.find(
    ({ name, ink: { box } }) =>
      /^flag/.test(name) && Math.abs(box[0] - x) < AT * space && touches((box[1] + box[3]) / 2),
  );
  if (flag) return /16|[ud]4/.test(flag.name) ? 2 : /32|[ud]5/.test(flag.name) ? 3 : 1;
  const leaning = signs.filter((sign) => {
    const [x0, , x1] = sign.ink.box;
    const spans = x0 < x + AT * space && x1 > x - AT * space;
    return spans && isBeam(sign, space) && touches(heightAt(sign.ink.rings[0]!, x));
  });
  const level = lines.across.filter(
    (line) =>
      line.thickness > 0.3 * space &&
      line.from < x + AT * space &&
      line.to > x - AT * space &&
      touches(line.at),
  );
  return leaning.length + level.length;
}

/** Middle of a slanted four-sided beam where it passes x. */
function heightAt(ring: readonly number[], x: number): number {
  const xs = ring.filter((_, i) => i % 2 === 0);
  const ys = ring.filter((_, i) => i % 2 === 1);
  const [x0, x1] = [Math.min(...xs), Math.max(...xs)];
  const middle = (x0 + x1) / 2;
  const mean = (side: (value: number) => boolean) => {
    const here = ys.filter((_, i) => side(xs[i]!));
    return here.reduce((a, b) => a + b, 0) / here.length;
  };
  const [left, right] = [mean((value) => value < middle), mean((value) => value >= middle)];
  return left + ((right - left) * (Math.min(x1, Math.max(x0, x)) - x0)) / (x1 - x0);
}

/** A length with the dots behind its note or rest. */
export const dotted = (plain: number, sign: Sign, signs: readonly Sign[], space: number): number =>
  plain * (2 - 0.5 ** dotsBehind(sign, signs, space));

function dotsBehind(sign: Sign, signs: readonly Sign[], space: number): number {
  const { box } = sign.ink;
  return signs.filter(({ ink: { box: dot } }) => {
    const [width, height] = [dot[2] - dot[0], dot[3] - dot[1]];
    const isDot = Math.abs(width - height) < 0.12 * space && width > 0.2 * space && width < 0.75 * space;
    const gap = dot[0] - box[2];
    return (
      isDot && gap > 0 && gap < 1.8 * space && Math.abs((dot[1] + dot[3]) / 2 - middleY(sign)) < 0.8 * space
    );
  }).length;
}
