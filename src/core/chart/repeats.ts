import type { BarId } from './types.ts';
import type { WrittenBar } from './written.ts';

/** Signs that cannot be played as they stand. `bar` is where the player should look. */
export class RepeatsContradict extends Error {
  override readonly name = 'RepeatsContradict';
  constructor(
    readonly reason: 'ending-missing' | 'ending-twice' | 'too-long',
    readonly bar: BarId,
    message: string,
  ) {
    super(message);
  }
}

/** No tune is as long as this; a route beyond it comes from a wrong number of times. */
const LONGEST = 4000;

interface Bracket {
  readonly numbers: readonly number[];
  readonly bars: WrittenBar[];
}

/** A stretch that sounds `times` times: its body, then the bracket for that time, if there is one. */
interface Passage {
  readonly body: readonly WrittenBar[];
  readonly brackets: readonly Bracket[];
  readonly times: number;
}

/** The brackets that begin at `from`: every bar in a row that is under one. */
function bracketsFrom(bars: readonly WrittenBar[], from: number): Bracket[] {
  const found: Bracket[] = [];
  for (let i = from; i < bars.length && bars[i]!.ending.length > 0; i++) {
    const bar = bars[i]!;
    const last = found.at(-1);
    if (last !== undefined && String(last.numbers) === String(bar.ending)) last.bars.push(bar);
    else found.push({ numbers: bar.ending, bars: [bar] });
  }
  return found;
}

function checkBrackets(brackets: readonly Bracket[]): void {
  const seen = new Set<number>();
  for (const { numbers, bars } of brackets)
    for (const number of numbers) {
      if (seen.has(number))
        throw new RepeatsContradict('ending-twice', bars[0]!.id, `two endings have the number ${number}`);
      seen.add(number);
    }
  for (let number = 1; number < Math.max(...seen); number++)
    if (!seen.has(number))
      throw new RepeatsContradict('ending-missing', brackets[0]!.bars[0]!.id, `ending ${number} is missing`);
}

/**
 * How often a passage with brackets sounds. A bracket that another one follows leads back, with or without
 * a printed sign; after a single one the music goes on without a bracket at the last time.
 */
function timesOf(brackets: readonly Bracket[]): number {
  const highest = Math.max(...brackets.flatMap((bracket) => bracket.numbers));
  if (brackets.length > 1) return highest;
  const signed = Math.max(...brackets[0]!.bars.map((bar) => bar.repeatEnd));
  return signed === 0 ? highest : Math.min(signed, highest + 1);
}

/** Cuts the written bars into passages. Repeats are not nested: the nearest start counts. */
function passages(bars: readonly WrittenBar[]): Passage[] {
  const found: Passage[] = [];
  let start = 0;
  for (let i = 0; i < bars.length; i++) {
    const bar = bars[i]!;
    if (bar.ending.length > 0) {
      const brackets = bracketsFrom(bars, i);
      checkBrackets(brackets);
      found.push({ body: bars.slice(start, i), brackets, times: timesOf(brackets) });
      i += brackets.reduce((sum, bracket) => sum + bracket.bars.length, 0) - 1;
      start = i + 1;
      continue;
    }
    if (bar.repeatStart && i > start) {
      found.push({ body: bars.slice(start, i), brackets: [], times: 1 });
      start = i;
    }
    if (bar.repeatEnd > 0) {
      found.push({ body: bars.slice(start, i + 1), brackets: [], times: bar.repeatEnd });
      start = i + 1;
    }
  }
  found.push({ body: bars.slice(start), brackets: [], times: 1 });
  return found;
}

/**
 * Written bars (no pickups) in the order they sound, after repeats and endings.
 * Throws RepeatsContradict.
 */
export function unfold(bars: readonly WrittenBar[]): WrittenBar[] {
  const route: WrittenBar[] = [];
  for (const { body, brackets, times } of passages(bars))
    for (let time = 1; time <= times; time++) {
      route.push(...body);
      route.push(...(brackets.find((bracket) => bracket.numbers.includes(time))?.bars ?? []));
      if (route.length > LONGEST)
        throw new RepeatsContradict(
          'too-long',
          (body[0] ?? brackets[0]!.bars[0]!).id,
          `the tune is longer than ${LONGEST} bars with its repeats`,
        );
    }
  return route;
}
