import type { BarId } from './types.ts';
import type { WrittenBar } from './written.ts';

/** A sign that cannot be played as it stands, or that comes to nothing, and where to look. */
export type SignProblemKind =
  | 'ending-missing'
  | 'ending-twice'
  | 'ending-alone'
  | 'repeat-never-ends'
  | 'repeat-nested'
  | 'segno-missing'
  | 'coda-missing'
  | 'to-coda-missing'
  | 'jump-missing'
  | 'fine-missing'
  | 'never-played'
  | 'too-long'
  | 'order-gone';

/** Signs that contradict each other: until they are put right, nobody can say how the tune goes. */
const CONTRADICTIONS: ReadonlySet<SignProblemKind> = new Set<SignProblemKind>([
  'ending-missing',
  'ending-twice',
  'segno-missing',
  'coda-missing',
  'to-coda-missing',
  'fine-missing',
  'too-long',
]);

/** The first contradiction among what does not fit; null when the signs can be played as they stand. */
export const contradictionOf = (problems: readonly SignProblem[]): SignProblem | null =>
  problems.find(({ kind }) => CONTRADICTIONS.has(kind)) ?? null;

export interface SignProblem {
  readonly kind: SignProblemKind;
  /** Null only where the bar itself is gone. */
  readonly bar: BarId | null;
}

/** Bars from `from` to before `to`, indices into the written bars. */
interface Range {
  readonly from: number;
  readonly to: number;
}

export interface Bracket extends Range {
  readonly numbers: readonly number[];
}

/**
 * A stretch that sounds `times` times: its body from `from` to before `bodyEnd`, each time with the bracket
 * for that time, if there is one.
 */
export interface Passage extends Range {
  readonly bodyEnd: number;
  readonly brackets: readonly Bracket[];
  readonly times: number;
}

/** The brackets that begin at `from`: every bar in a row that is under one. */
function bracketsFrom(bars: readonly WrittenBar[], from: number): Bracket[] {
  const found: Bracket[] = [];
  for (let i = from; i < bars.length && bars[i]!.ending.length > 0; i++) {
    const numbers = bars[i]!.ending;
    const last = found.at(-1);
    if (last !== undefined && String(last.numbers) === String(numbers))
      found[found.length - 1] = { ...last, to: i + 1 };
    else found.push({ numbers, from: i, to: i + 1 });
  }
  return found;
}

const highestOf = (brackets: readonly Bracket[]) =>
  Math.max(...brackets.flatMap((bracket) => bracket.numbers));

const signedTimes = (bars: readonly WrittenBar[], { from, to }: Range) =>
  Math.max(...bars.slice(from, to).map((bar) => bar.repeatEnd));

function bracketProblems(bars: readonly WrittenBar[], brackets: readonly Bracket[]): SignProblem[] {
  const found: SignProblem[] = [];
  const seen = new Set<number>();
  const first = bars[brackets[0]!.from]!.id;
  for (const { numbers, from } of brackets) {
    if (numbers.some((number) => seen.has(number))) found.push({ kind: 'ending-twice', bar: bars[from]!.id });
    for (const number of numbers) seen.add(number);
  }
  const highest = highestOf(brackets);
  if (seen.size < highest) found.push({ kind: 'ending-missing', bar: first });
  if (brackets.length === 1 && highest === 1 && signedTimes(bars, brackets[0]!) === 0)
    found.push({ kind: 'ending-alone', bar: first });
  return found;
}

/**
 * How often a passage with brackets sounds. A bracket that another one follows leads back, with or without
 * a printed sign; after a single one the music goes on without a bracket at the last time.
 */
function timesOf(bars: readonly WrittenBar[], brackets: readonly Bracket[]): number {
  const highest = highestOf(brackets);
  if (brackets.length > 1) return highest;
  const signed = signedTimes(bars, brackets[0]!);
  return Math.max(highest, Math.min(signed, highest + 1));
}

export interface Passages {
  /** In reading order, covering the bars without gaps. */
  readonly passages: readonly Passage[];
  readonly problems: readonly SignProblem[];
}

/**
 * Cuts the written bars (no pickups) into passages. Repeats are not nested: the nearest start counts. Where no
 * start is printed, a passage begins after the repeat before it, after a D.C. or D.S., or with the coda.
 */
export function passagesOf(bars: readonly WrittenBar[]): Passages {
  const passages: Passage[] = [];
  const problems: SignProblem[] = [];
  let from = 0;
  let isPrinted = false;
  const close = (bodyEnd: number, brackets: readonly Bracket[], times: number) => {
    const to = brackets.at(-1)?.to ?? bodyEnd;
    if (to > from) passages.push({ from, bodyEnd, to, brackets, times });
    from = to;
    isPrinted = false;
  };
  for (let i = 0; i < bars.length; i++) {
    const bar = bars[i]!;
    if (bar.repeatStart) {
      close(i, [], 1);
      isPrinted = true;
    } else if (!isPrinted && (bar.coda || (i > 0 && bars[i - 1]!.jump !== null))) close(i, [], 1);
    if (bar.ending.length > 0) {
      const brackets = bracketsFrom(bars, i);
      problems.push(...bracketProblems(bars, brackets));
      close(i, brackets, timesOf(bars, brackets));
      i = from - 1;
    } else if (bar.repeatEnd > 0) close(i + 1, [], bar.repeatEnd);
  }
  close(bars.length, [], 1);
  return { passages, problems: [...problems, ...startProblems(bars)] };
}

/** Starts that no end answers, and starts inside a repeat whose own end comes later. */
function startProblems(bars: readonly WrittenBar[]): SignProblem[] {
  const found: SignProblem[] = [];
  const open: BarId[] = [];
  for (const bar of bars) {
    if (bar.repeatStart) open.push(bar.id);
    // Brackets end a repeat without a sign too.
    const ends = bar.repeatEnd > 0 || bar.ending.some((number) => number > 1);
    if (!ends || open.length === 0) continue;
    const inner = open.pop()!;
    if (open.length > 0 && endsAgain(bars, bar)) found.push({ kind: 'repeat-nested', bar: inner });
    else found.push(...open.map((id): SignProblem => ({ kind: 'repeat-never-ends', bar: id })));
    open.length = 0;
  }
  return [...found, ...open.map((id): SignProblem => ({ kind: 'repeat-never-ends', bar: id }))];
}

/** Whether another repeat ends after this bar before one starts. */
function endsAgain(bars: readonly WrittenBar[], bar: WrittenBar): boolean {
  for (const next of bars.slice(bars.indexOf(bar) + 1)) {
    if (next.repeatStart) return false;
    if (next.repeatEnd > 0 && next.ending.length === 0) return true;
  }
  return false;
}
