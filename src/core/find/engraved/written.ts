import { staffAt, type BarParts } from '../bars/bars.ts';
import type { StaffParts } from '../types.ts';
import type { SortedInk } from './fonts.ts';
import type { Straights } from './straight.ts';
import type { Sign } from './things.ts';
import type { Words } from './words.ts';

/** All that is known of a system when its bars are read. Lengths in page points. */
export interface SystemInk {
  readonly staves: readonly StaffParts[];
  readonly signs: readonly Sign[];
  /** All from the system above to the one below: accidentals of words that belong to this one. */
  readonly nearby: readonly Sign[];
  readonly words: readonly Words[];
  /** Of the whole page: their accidentals are no music of a neighbour. */
  readonly pageWords: readonly Words[];
  /** Segno and coda, which stand higher than notes. */
  readonly formSigns: readonly Sign[];
  readonly lines: Straights;
  /** Letters of words in the staves or between them, or less than a space off. */
  readonly letters: SortedInk['letters'];
  readonly bars: readonly BarParts[];
  /** Heights between which something is this system's, not a neighbour's. */
  readonly reach: readonly [top: number, bottom: number];
}

export const middleX = ({ ink: { box } }: Sign) => (box[0] + box[2]) / 2;
export const middleY = ({ ink: { box } }: Sign) => (box[1] + box[3]) / 2;
export const inBar = (sign: Sign, bar: BarParts) => middleX(sign) > bar.x0 && middleX(sign) < bar.x1;
export const isPlayed = ({ kind }: Sign) => kind === 'head' || kind === 'rest' || kind === 'multi-rest';

/** It stands between the outer lines of its staff, or nearly: its middle at most so many spaces over or under them. */
export function isInStaff(sign: Sign, staves: readonly StaffParts[], near = 0.3): boolean {
  const y = middleY(sign);
  return staves.some(({ lines, space }) => y > lines[0]! - near * space && y < lines.at(-1)! + near * space);
}

/** Clef, key and meter at the start of a system: for each staff, the signs before its first note or rest. */
export function headersOf({ staves, signs, bars }: SystemInk): Sign[][] {
  const first = bars[0];
  if (first === undefined) return staves.map(() => []);
  // Clef and key stand before a start repeat, its dots behind it.
  const edge = first.left.startsWith('repeat') ? first.x0 : first.x1;
  return staves.map((_, i) => {
    const own = signs
      .filter((sign) => middleX(sign) < edge && staffAt(staves, middleY(sign)) === i)
      .sort((a, b) => middleX(a) - middleX(b));
    const end = Math.min(...own.filter(isPlayed).map(({ ink }) => ink.box[0]));
    return ofOneKey(own.filter((sign) => sign.ink.box[2] <= end + 0.1 && isHeader(sign, staves)));
  });
}

/** A key is of sharps or of flats alone, naturals stand before them: what follows is the first note's. */
function ofOneKey(header: readonly Sign[]): Sign[] {
  const isOf = (sign: Sign, name: RegExp) => sign.kind === 'accidental' && name.test(sign.name);
  const first = header.findIndex((sign) => isOf(sign, /flat|sharp/i));
  const other = first < 0 ? null : isOf(header[first]!, /flat/i) ? /sharp|natural/i : /flat|natural/i;
  const end = other === null ? -1 : header.findIndex((sign, i) => i > first && isOf(sign, other));
  return end < 0 ? [...header] : header.slice(0, end);
}

/** The third sharp of a key stands over the top line. */
const OVER = 0.75;

function isHeader(sign: Sign, staves: readonly StaffParts[]): boolean {
  if (sign.kind === 'accidental') return isInStaff(sign, staves, OVER);
  return isInStaff(sign, staves) && (sign.kind === 'clef' || sign.kind === 'other');
}

/** A header as text: what stands at which height. */
export function headerKeys(headers: readonly (readonly Sign[])[], staves: readonly StaffParts[]): string[][] {
  return headers.map((list, i) => {
    const { lines, space } = staves[i]!;
    return list.map((sign) => `${sign.ink.outline}@${Math.round(((middleY(sign) - lines[0]!) / space) * 4)}`);
  });
}
