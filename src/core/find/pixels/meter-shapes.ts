import type { Meter } from '../../chart/types.ts';
import { ALONG, EDGES, type Question } from './answers.ts';

/** What may stand behind the clef and the key of a line, in the order of the net's outputs. */
export const METERS = [
  'none',
  'C',
  'cut',
  '2/4',
  '3/4',
  '4/4',
  '5/4',
  '6/4',
  '2/2',
  '3/2',
  '3/8',
  '6/8',
  '9/8',
  '12/8',
  '7/8',
] as const;
export type Said = (typeof METERS)[number];

/** A meter as it is said; null for none. C is 4/4, C with a stroke 2/2. */
export function meterOf(said: Said): Meter | null {
  if (said === 'none') return null;
  const [beats, value] = (said === 'C' ? '4/4' : said === 'cut' ? '2/2' : said).split('/').map(Number);
  return { beats: beats!, value: value! };
}

/** Rows of a strip after the first layer. */
const ROWS = 23;
/** As for bar lines, but for a glance at one place and what stands beside it. */
export const METER: Question = {
  shapes: [
    { ...EDGES, from: 1, to: 6 },
    { ...ALONG, from: 6, to: 18, high: ROWS, across: 2 },
    { ...ALONG, from: 18, to: 18 },
    { ...ALONG, from: 18, to: METERS.length, wide: 1 },
  ],
};
