import type { BarParts } from '../bars/bars.ts';
import { partEndUnder, startingAt, type BarPlace } from '../engraved/signs.ts';
import { mayBegin } from '../tunes.ts';
import type { SystemParts } from '../types.ts';
import { meaningOf, SIGNS, type Meaning } from './sign-shapes.ts';
import type { SeenSign } from './signs.ts';
import type { WrittenPlace } from './above.ts';
import { LEAST } from './agreed.ts';

/** Words so far above the staff, in spaces, are a title's or another line's. */
const HIGH = 8;
/** Words set to a bar's end stand within so many spaces of it. */
const SET = 0.8;
/** A bar line is clearly nearer than another by so many spaces. */
const NEARER = 0.25;
/** A sign belongs to a bar that begins at most so many spaces behind where it begins. */
const FAR = 2.4;

/** A phrase that goes on with "al" is hardly shorter, in spaces: it seems so where its dots part it. */
const PHRASE = 8;

/** A sign of the form with its bar, counted in its system. */
export interface SaidSign extends Omit<Meaning, 'numbers'>, WrittenPlace {
  readonly bar: number;
  readonly sure: number;
  /** Of a section: the chance of each letter. */
  readonly letters?: Readonly<Record<string, number>>;
}

/** The chance of each letter of a section, of the net's chances. */
const lettersIn = (chances: readonly number[]): Record<string, number> =>
  Object.fromEntries(
    SIGNS.flatMap((written, i) => {
      const { kind, text = '' } = meaningOf(written) ?? {};
      return kind === 'section' ? [[text, chances[i] ?? 0]] : [];
    }),
  );

/** The signs of a system that may be said, each with the bar that it belongs to. */
export function saidOf(
  seen: readonly SeenSign[],
  bars: readonly BarParts[],
  { staves }: SystemParts,
): SaidSign[] {
  if (bars.length === 0) return [];
  const { space } = staves[0]!;
  const places = bars.map(({ x0, x1, right }, index): BarPlace => ({
    index,
    x0,
    x1,
    ends: mayBegin(right),
  }));
  return seen.flatMap(({ numbers, chances, far = 0, ...sign }): SaidSign[] => {
    if (numbers !== undefined || sign.sure < LEAST) return [];
    const isAtEnd = ['dc', 'ds', 'to-coda', 'fine'].includes(sign.kind);
    if (isAtEnd && sign.y1 < staves[0]!.lines[0]! - HIGH * space) return [];
    const isCut = sign.al !== undefined && sign.x1 - sign.x0 < PHRASE * space;
    const words = isCut ? { ...sign, x1: Math.max(sign.x1, far) } : sign;
    const box = [words.x0, words.y0, words.x1, words.y1] as const;
    const bar = isAtEnd
      ? (partEndUnder(sign.kind, box, places, space) ?? endingBar(words, places, space))
      : startingAt(box, places, space, FAR);
    return [{ ...words, bar, ...(sign.kind === 'section' ? { letters: lettersIn(chances) } : {}) }];
  });
}

/**
 * The bar at whose end words are meant: the one at whose bar line they end or begin, otherwise the one that they begin
 * in. How far they go is not to be relied on: a chord symbol may stand close behind them. Words that end at one bar line
 * and begin as close to another are set to the one that is clearly nearer.
 */
function endingBar({ x0, x1 }: WrittenPlace, bars: readonly BarPlace[], space: number): number {
  const off = (x: number, bar: BarPlace | undefined) =>
    bar === undefined ? Infinity : Math.abs(bar.x1 - x) / space;
  const setAt = (x: number) => bars.find((bar) => off(x, bar) <= SET);
  const [ends, begins] = [setAt(x1), setAt(x0)];
  const set = off(x0, begins) + NEARER < off(x1, ends) ? begins : (ends ?? begins);
  return (set ?? bars.findLast((bar) => bar.x0 <= x0) ?? bars[0]!).index;
}
