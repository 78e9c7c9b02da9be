/**
 * What an upright stroke looked like to the finder, as numbers: the same for bar lines and for strokes that were
 * left out, so that one correction tells which others are of its kind.
 */
import { median } from '../../median.ts';

/** One trait: how near two values are still alike. Lengths in spaces of the staff. */
interface Trait {
  readonly name: TraitName;
  readonly near: number;
}

export type TraitName =
  | 'over'
  | 'under'
  | 'thick'
  | 'cover'
  | 'leftUpper'
  | 'leftLower'
  | 'rightUpper'
  | 'rightLower'
  | 'besideLeft'
  | 'besideRight'
  | 'dark';

/** Traits by name, in spaces or 0–1. */
export type Traits = Readonly<Record<TraitName, number>>;

/** A look as it is kept: the traits in the order of `TRAITS`. */
export type Look = readonly number[];

/** Nothing is followed further than this beyond the staff, and to the next stroke; in spaces. */
export const FOLLOWED = 3;
export const BESIDE = 1;

export const TRAITS: readonly Trait[] = [
  // How far its ends lie beyond the outer staff lines; less than 0 where it stops short.
  { name: 'over', near: 0.4 },
  { name: 'under', near: 0.4 },
  { name: 'thick', near: 0.07 },
  // Share of the way between its ends that is ink: a dashed one has less than 1.
  { name: 'cover', near: 0.15 },
  // A head touches it at that end and side, 0–1: it is a stem.
  { name: 'leftUpper', near: 0.5 },
  { name: 'leftLower', near: 0.5 },
  { name: 'rightUpper', near: 0.5 },
  { name: 'rightLower', near: 0.5 },
  // The next stroke of about its length at either side: a double bar line's partner.
  { name: 'besideLeft', near: 0.3 },
  { name: 'besideRight', near: 0.3 },
  // 1 black – 0 white.
  { name: 'dark', near: 0.2 },
];

const places = (pattern: RegExp) => TRAITS.flatMap(({ name }, i) => (pattern.test(name) ? [i] : []));
const TOUCHES = places(/Upper|Lower/);
/** How a stroke is drawn. */
const DRAWN = places(/^(thick|cover|dark)$/);
const [THICK] = places(/^thick$/) as [number];
const ENDS = places(/^(over|under)$/);
const BESIDES = places(/^beside/);
const ALL = places(/./);

/** A head is at one of its ends: a stem, whichever way it goes and however long it is. */
export const isTouched = (look: Look): boolean => TOUCHES.some((i) => look[i]! >= 0.5);

const largest = (a: Look, b: Look, traits: readonly number[]) =>
  Math.max(...traits.map((i) => Math.abs(a[i]! - b[i]!) / TRAITS[i]!.near));

const round = (value: number) => Math.round(value * 1000) / 1000;

export const lookOf = (traits: Traits): Look => TRAITS.map(({ name }) => round(traits[name]));

/** The largest difference of two looks, each trait in its own measure: up to 1 they are alike. */
export function unlikeness(a: Look, b: Look): number {
  const isStem = isTouched(a);
  if (isStem !== isTouched(b)) return Infinity;
  return largest(a, b, isStem ? DRAWN : ALL);
}

/** An end this far from where the usual ones are, in spaces, or this share of their thickness, marks a stem. */
const OFF = 0.3;
const THINNER = 0.75;

/**
 * It is none of the usual ones, whatever stands beside it: it ends elsewhere, is drawn quite otherwise, or is a
 * stem by its head and one of these. In pixels the same line may be one wider here than there, and a smudge is
 * as dark as a head: neither is enough alone.
 */
export function standsOut(look: Look, usual: Look): boolean {
  const ends = Math.max(...ENDS.map((i) => Math.abs(look[i]! - usual[i]!)));
  if (isTouched(look) && !isTouched(usual) && (ends > OFF || look[THICK]! < THINNER * usual[THICK]!))
    return true;
  return largest(look, usual, ENDS) > 1 || largest(look, usual, DRAWN) > 2;
}

/** It could be a bar line that stops short: alone, inside the staves, and no further from their ends than this. */
const SHORT = 1.6;
export function isShortLine(look: Look): boolean {
  const ends = ENDS.every((i) => look[i]! >= -SHORT && look[i]! <= OFF + 0.2);
  return ends && !isTouched(look) && BESIDES.every((i) => look[i]! >= BESIDE);
}

/** Trait by trait the middle of several looks. Throws nothing; the look of none is empty. */
export function middleLook(looks: readonly Look[]): Look {
  if (looks.length === 0) return [];
  return TRAITS.map((_, i) => median(looks.map((look) => look[i]!)));
}
