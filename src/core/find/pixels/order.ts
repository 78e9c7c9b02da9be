/**
 * The endings of a page in their order. What brackets mean hangs on the bar lines of repeats: a first ending goes on to
 * the sign that ends the repeat, and every further one begins right behind such a sign and counts on (Gould, "Behind
 * Bars", on first and second endings; common practice).
 */
import type { BarParts } from '../bars/bars.ts';
import type { BarLineKind, Bracket } from '../types.ts';
import { NUMBERS, type Unread } from './endings.ts';

/** A line of music: its bars, and the brackets over them. */
interface Line {
  readonly bars: readonly BarParts[];
  readonly brackets: readonly Unread[];
}

/** Bars of an ending that may lie beyond the end of its bracket as it was seen. */
const BEYOND = 3;
/** A number that does not follow from the order is so rare; so is a first ending right behind a repeat. */
const UNUSUAL = 0.002;
const FIRST_BEHIND = 0.05;
/** Two numbers over one bracket are rarer than one. */
const SHARED = 0.03;
/** Rows of numbers that are kept in mind. */
const ROWS = 64;
/** How sure an ending is, at most, that goes on further than its bracket was seen. */
const BEYOND_SURE = 0.85;

/** Bars from one to before another that a bracket, or its pieces on several lines, stands over. */
interface Ending {
  readonly from: number;
  to: number;
  readonly bracket: Unread;
  /** The bar line before it ends a repeat. Null: it is the page's first bar. */
  readonly isBehind: boolean | null;
  readonly isBeyond?: boolean;
}

const endsRepeat = (kind: BarLineKind | undefined) => kind === 'repeat-end' || kind === 'repeat-both';
const endsPart = (kind: BarLineKind | undefined) => kind === 'double' || kind === 'final';

/** The brackets of every line of a page, their numbers and their bars settled together. */
export function inOrder(lines: readonly Line[]): Bracket[][] {
  const bars = lines.flatMap((line) => line.bars);
  const brackets = lines.flatMap((line) =>
    line.bars.map(({ bracket }) => line.brackets.find((one) => one === bracket) ?? null),
  );
  const repeats = bars.map(({ left }, i) => endsRepeat(bars[i - 1]?.right) || endsRepeat(left));
  const ended = bars.map((_, i) => repeats[i]! || endsPart(bars[i - 1]?.right));
  const found = endingsIn(brackets, repeats, ended);
  const whole = found.map((one, k) => reaching(one, found[k + 1], repeats));
  const meant = whole.filter((one, k) => isMeant(one, whole[k + 1], ended, bars.length));
  const numbered = numbersOf(meant);
  let first = 0;
  return lines.map((line) => {
    const from = first;
    first += line.bars.length;
    return numbered.flatMap((one) => pieceOn(line.bars, from, one));
  });
}

/** Endings as their brackets show them, cut where a repeat ends; pieces of a bracket are put together. */
function endingsIn(
  brackets: readonly (Unread | null)[],
  repeats: readonly boolean[],
  ended: readonly boolean[],
): Ending[] {
  const found: Ending[] = [];
  brackets.forEach((bracket, i) => {
    if (bracket === null) return;
    const open = found.at(-1)?.to === i ? found.at(-1)! : null;
    const isSame = bracket === brackets[i - 1];
    const isNew = i === 0 || repeats[i]! || (!isSame && ended[i]!);
    if (open && !isNew) open.to = i + 1;
    else if (open || i === 0 || bracket.hookLeft)
      found.push({
        from: i,
        to: i + 1,
        bracket: isSame ? unseen(bracket) : bracket,
        isBehind: i === 0 ? null : repeats[i]!,
      });
  });
  return found;
}

/** An ending whose own number was not seen: the line of the bracket before goes on over it. */
const unseen = (bracket: Unread): Unread => ({ ...bracket, odds: NUMBERS.map(() => 1) });

/** An ending with the bars up to where the repeat ends, though its bracket seemed to end before. */
function reaching(one: Ending, next: Ending | undefined, repeats: readonly boolean[]): Ending {
  const end = repeats.indexOf(true, one.from + 1);
  const isNear = end > one.to && end <= one.to + BEYOND;
  const isFree = next === undefined || next.from >= end;
  // The last ending of a repeat may end anywhere; any other has the next one behind it.
  const isLast = one.isBehind !== false && next?.from !== end;
  return isNear && isFree && !isLast ? { ...one, to: end, isBeyond: true } : one;
}

/** A first ending has the end of its repeat, or of its part, behind it, or another ending. */
function isMeant(one: Ending, next: Ending | undefined, ended: readonly boolean[], count: number): boolean {
  return one.isBehind !== false || one.to === count || ended[one.to]! || next?.from === one.to;
}

interface Numbered {
  readonly ending: Ending;
  readonly numbers: readonly number[];
  readonly sure: number;
}

/** A row of numbers, one for each of the endings so far, and how likely it is. */
interface Row {
  readonly numbers: readonly (readonly number[])[];
  readonly odds: number;
}

/** What is seen of each number, and what follows what: the likeliest row of numbers, and how sure each of it is. */
function numbersOf(endings: readonly Ending[]): Numbered[] {
  let rows: Row[] = [{ numbers: [], odds: 1 }];
  endings.forEach((one, i) => {
    const isNext = endings[i - 1]?.to === one.from;
    rows = rows.flatMap(({ numbers, odds }): Row[] => {
      if (one.isBehind === null && !one.bracket.hookLeft) return [{ numbers: [...numbers, []], odds }];
      return NUMBERS.map((own, k) => ({
        numbers: [...numbers, own],
        odds: odds * one.bracket.odds[k]! * rarity(own, one, isNext ? numbers.at(-1)! : null),
      }));
    });
    rows = rows.sort((a, b) => b.odds - a.odds).slice(0, ROWS);
  });
  const all = rows.reduce((sum, { odds }) => sum + odds, 0);
  return endings.map((ending, i) => {
    const numbers = rows[0]!.numbers[i]!;
    const same = rows.filter((row) => row.numbers[i]!.join() === numbers.join());
    const share = same.reduce((sum, { odds }) => sum + odds, 0) / all;
    return { ending, numbers, sure: ending.bracket.sure * share };
  });
}

/** How rare a number is behind those of the ending right before; null: there is none. */
function rarity(own: readonly number[], one: Ending, before: readonly number[] | null): number {
  const shared = own.length > 1 ? SHARED : 1;
  if (before === null && one.isBehind === null) return shared;
  if (before === null && one.isBehind) return shared * (own[0] === 1 ? FIRST_BEHIND : 1);
  return shared * (own[0] === (before?.at(-1) ?? 0) + 1 ? 1 : UNUSUAL);
}

/** The piece of an ending's bracket over the bars of a line, the first of which is the page's `from`. */
function pieceOn(bars: readonly BarParts[], from: number, { ending, numbers, sure }: Numbered): Bracket[] {
  const first = bars[Math.max(ending.from - from, 0)];
  const last = bars[Math.min(ending.to - from, bars.length) - 1];
  if (first === undefined || last === undefined) return [];
  const starts = ending.from >= from;
  return [
    {
      x0: first.x0,
      x1: last.x1,
      y: ending.bracket.y,
      hookLeft: starts,
      hookRight: false,
      // A piece that goes on from the line before has the numbers of that.
      numbers: starts ? numbers : [],
      sure: ending.isBeyond === true ? Math.min(sure, BEYOND_SURE) : sure,
    },
  ];
}
