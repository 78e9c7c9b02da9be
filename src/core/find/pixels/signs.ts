import { answersAbout } from './answers.ts';
import { placesAbove, windowAt, type WrittenPlace } from './above.ts';
import type { SignKind } from '../types.ts';
import type { Layer } from './net.ts';
import { meaningOf, SIGN, SIGNS, type Meaning } from './sign-shapes.ts';
import weights from './sign-weights.json' with { type: 'json' };
import type { Straight } from './straight.ts';
import { unpacked } from './weights.ts';

/** A sign seen with less is not looked at any further. */
const LEAST = 0.4;
/** Two that begin so close, in spaces, are one. */
const CLOSE = 1.5;
/** Two endings are further apart. */
const APART = 3;
/** The words of a phrase take so many spaces: what is seen in them is one of them. */
const WORDS: Record<string, number> = { dc: 3, ds: 3, 'to-coda': 5 };
const AL = 5;

/** A sign over a system, in columns and rows of the straightened picture. */
export interface SeenSign extends Meaning, WrittenPlace {
  /** The chance, 0–1, that it is this one. */
  readonly sure: number;
  /** The chance of each answer of `SIGNS`. */
  readonly chances: readonly number[];
}

/** Only these are read between two staves: anything else that is written there says nothing of the form. */
const BETWEEN: ReadonlySet<SignKind> = new Set(['dc', 'ds', 'fine', 'to-coda']);

/** Answers that are endings. */
const ENDINGS = SIGNS.flatMap((written, i) => (written.startsWith('ending') ? [i] : []));

const likeliest = (chances: readonly number[], of: readonly number[]) =>
  of.reduce((a, b) => (chances[b]! > chances[a]! ? b : a));

let net: readonly Layer[] | null = null;

/** What the net says of places over a staff: of each what it most likely is, if anything. */
export function readAt(straight: Straight, places: readonly WrittenPlace[]): SeenSign[] {
  net ??= unpacked(weights, SIGN.shapes);
  const layers = net;
  return places.flatMap((place) => {
    const chances = answersAbout(windowAt(straight, place), SIGN, layers);
    const best = chances.indexOf(Math.max(...chances));
    // That it is an ending may be sure where its number is not.
    const ending = ENDINGS.reduce((sum, c) => sum + chances[c]!, 0);
    const [answer, sure] =
      ending > chances[best]! ? [likeliest(chances, ENDINGS), ending] : [best, chances[best]!];
    const meaning = meaningOf(SIGNS[answer]!);
    if (meaning === null || sure < LEAST) return [];
    const isBetween = place.y0 > straight.tops[0]!;
    return isBetween && !BETWEEN.has(meaning.kind) ? [] : [{ ...meaning, ...place, sure, chances }];
  });
}

/** The signs over a system, each once, left to right. */
export function signsOver(straight: Straight, corners: readonly WrittenPlace[] = []): SeenSign[] {
  const seen = readAt(straight, [...placesAbove(straight), ...corners]).sort((a, b) => b.sure - a.sure);
  const kept: SeenSign[] = [];
  for (const one of seen) if (!kept.some((other) => isPartOf(one, other, straight.unit))) kept.push(one);
  return kept.sort((a, b) => a.x0 - b.x0);
}

/** The same sign seen from another place, or one of the words of a phrase. */
function isPartOf(one: SeenSign, other: SeenSign, unit: number): boolean {
  const height = Math.abs(one.y0 + one.y1 - other.y0 - other.y1) / 2;
  if (height > 2 * unit) return false;
  const words = (WORDS[other.kind] ?? 0) + (other.al === undefined ? 0 : AL);
  const areEndings = one.kind === 'ending' && other.kind === 'ending';
  const wide = Math.max(areEndings ? APART : CLOSE, Math.min(words, (other.x1 - other.x0) / unit));
  return one.x0 > other.x0 - (areEndings ? APART : CLOSE) * unit && one.x0 < other.x0 + wide * unit;
}
