import type { SignKind } from '../types.ts';
import { ALONG, EDGES, type Question } from './answers.ts';

/** What may be written over a staff and says something of the form, in the order of the net's outputs. */
export const SIGNS = [
  'none',
  'ending 1',
  'ending 2',
  'ending 3',
  'ending 1,2',
  'segno',
  'coda',
  'dc',
  'dc al fine',
  'dc al coda',
  'ds',
  'ds al fine',
  'ds al coda',
  'fine',
  'to-coda',
  'section A',
  'section B',
  'section C',
  'section D',
] as const;
export type Written = (typeof SIGNS)[number];

/** What it is a sign of, with what else it says. */
export interface Meaning {
  readonly kind: SignKind;
  readonly al?: 'fine' | 'coda';
  /** A section's letter. */
  readonly text?: string;
  /** An ending's numbers. */
  readonly numbers?: readonly number[];
}

/** What a sign says of the form; null for none. */
export function meaningOf(written: Written): Meaning | null {
  const [kind = '', more = '', al] = written.split(' ');
  if (kind === 'none') return null;
  if (kind === 'ending') return { kind, numbers: more.split(',').map(Number) };
  if (kind === 'section') return { kind, text: more };
  return { kind: kind as SignKind, ...(al === 'fine' || al === 'coda' ? { al } : {}) };
}

/** Rows of a window after the first layer. */
const ROWS = 11;
/** A sign begins near the left of its window; the net answers from where it sees all of it. */
export const SIGN: Question = {
  shapes: [
    { ...EDGES, from: 1, to: 8, across: 2 },
    { ...ALONG, from: 8, to: 20, high: ROWS, across: 2 },
    { ...ALONG, from: 20, to: 20 },
    { ...ALONG, from: 20, to: 24, spread: 3 },
    { ...ALONG, from: 24, to: SIGNS.length, wide: 1 },
  ],
  places: [7, 9],
};
