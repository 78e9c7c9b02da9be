import { passagesOf, type Passage, type SignProblem } from './repeats.ts';
import type { Conventions } from './types.ts';
import type { WrittenBar } from './written.ts';

/** No tune is as long as this; a route beyond it comes from a wrong number of times. */
export const LONGEST = 4000;

/** One written bar as it sounds. */
export interface Sounding {
  readonly bar: WrittenBar;
  /** A jump, a new chorus or a hand's order leads here, and not the page, a repeat or an ending. */
  readonly leap: boolean;
}

export interface Played {
  readonly places: readonly Sounding[];
  readonly problems: readonly SignProblem[];
}

/** What the way heeds: all to the end before any jump, then what the last jump said. */
type Way = 'first' | 'plain' | 'fine' | 'coda' | 'in-coda';

/** What has been met so far. */
interface Now {
  way: Way;
  codaTaken: boolean;
  /** The jump whose Fine or coda has yet to come. */
  pending: SignProblem | null;
}

/** Which chorus is played, of how many. */
export interface Chorus {
  readonly isLast: boolean;
  readonly several: boolean;
}

/**
 * One chorus of these bars as the signs say, under these conventions (`conventions.ts`). Always ends: no jump is
 * taken twice, and a repeat sounds a counted number of times.
 */
export function play(bars: readonly WrittenBar[], conventions: Conventions, chorus: Chorus): Played {
  const { passages, problems: found } = passagesOf(bars);
  const problems: SignProblem[] = [...found];
  const places: Sounding[] = [];
  const taken = new Set<number>();
  const heard = new Set<Passage>();
  const hasJump = bars.some((bar) => bar.jump !== null);
  const hasCodaJump = bars.some((bar) => bar.jump?.endsWith('al-coda'));
  const hasToCoda = bars.some((bar) => bar.toCoda);
  const waits = chorus.several && !chorus.isLast && conventions.codaLastChorus;
  const firstCoda = bars.findIndex((bar) => bar.coda);
  // A chorus before the last one ends where the coda begins.
  const end = waits && hasToCoda && firstCoda > 0 ? firstCoda : bars.length;
  const now: Now = { way: 'first', codaTaken: false, pending: null };

  const heedsCoda = () => {
    if (waits || now.way === 'fine' || now.way === 'in-coda') return false;
    const atOnce = conventions.codaAtOnce || (chorus.several && chorus.isLast && !hasCodaJump);
    return now.way !== 'first' || atOnce;
  };
  const heedsFine = () => {
    if (now.way === 'coda') return false;
    return now.way !== 'first' || conventions.fineAtOnce || !hasJump;
  };
  const settle = () => {
    if (now.pending !== null) problems.push(now.pending);
    now.pending = null;
  };

  /** Where the right bar line of bar `i` leads: to another bar, to the end, or on (null). */
  const after = (i: number, isLastTime: boolean): number | 'end' | null => {
    const bar = bars[i]!;
    if (bar.toCoda && isLastTime && heedsCoda()) {
      const coda = bars.findIndex((other, k) => k > i && other.coda);
      if (now.pending?.kind === 'to-coda-missing') now.pending = null;
      if (coda >= 0) {
        now.way = 'in-coda';
        now.codaTaken = true;
        return coda;
      }
      problems.push({ kind: 'coda-missing', bar: bar.id });
    }
    if (bar.fine && isLastTime && heedsFine()) {
      if (now.pending?.kind === 'fine-missing') now.pending = null;
      return 'end';
    }
    if (bar.jump === null || taken.has(i) || (conventions.jumpAfterRepeats && !isLastTime)) return null;
    if (waits && bar.jump.endsWith('al-coda')) return 'end';
    taken.add(i);
    const target = bar.jump.startsWith('dc') ? 0 : segnoFor(bars, i);
    if (target < 0) {
      problems.push({ kind: 'segno-missing', bar: bar.id });
      return null;
    }
    settle();
    now.way = 'plain';
    if (bar.jump.endsWith('al-fine')) {
      now.way = 'fine';
      now.pending = { kind: 'fine-missing', bar: bar.id };
    } else if (bar.jump.endsWith('al-coda')) {
      now.way = 'coda';
      now.pending = { kind: 'to-coda-missing', bar: bar.id };
    }
    return target;
  };

  /** Plays on from bar `at` until something leads elsewhere; there, or null at the end. */
  const leg = (at: number): number | null => {
    let leap = true;
    for (const passage of passages.filter(({ to }) => to > at)) {
      const known = heard.has(passage) && now.way !== 'first' && !conventions.repeatsAfterJump;
      heard.add(passage);
      const times = timesToPlay(passage, at, known, conventions);
      for (const time of times) {
        const bracket = passage.brackets.find(({ numbers }) => numbers.includes(time));
        for (const i of indices(passage, bracket, time === times[0] ? at : 0)) {
          if (i >= end || places.length > LONGEST) return null;
          places.push({ bar: bars[i]!, leap });
          leap = false;
          const ofBracket = i >= passage.bodyEnd && bracket !== undefined;
          const isLastTime = ofBracket
            ? !times.some((later) => later > time && bracket.numbers.includes(later))
            : time === times.at(-1);
          const next = after(i, isLastTime);
          if (next !== null) return next === 'end' ? null : next;
        }
      }
    }
    return null;
  };

  let at: number | null = bars.length > 0 ? 0 : null;
  while (at !== null) at = leg(at);
  settle();
  // A jump that finds no segno, or a coda that is not there, has been said already.
  const isSaid = problems.some(({ kind }) => kind === 'segno-missing' || kind.includes('coda-missing'));
  if (chorus.isLast && !now.codaTaken && !isSaid)
    problems.push(
      ...bars.filter((bar) => bar.toCoda).map(({ id }): SignProblem => ({ kind: 'jump-missing', bar: id })),
    );
  return { places, problems };
}

/** The segno that a D.S. at bar `i` leads back to: the nearest before it; -1 for none. */
const segnoFor = (bars: readonly WrittenBar[], i: number): number =>
  bars.findLastIndex((bar, k) => k <= i && bar.segno);

/** Which times of a passage are played that is entered at bar `at`. */
function timesToPlay(passage: Passage, at: number, known: boolean, conventions: Conventions): number[] {
  const all = Array.from({ length: passage.times }, (_, i) => i + 1);
  // Entered inside a bracket (a passage may have nothing before them), that is played for its last time.
  const inside = passage.brackets.find(({ from, to }) => at > passage.from && from <= at && at < to);
  if (inside !== undefined) return [Math.max(...inside.numbers)];
  return known ? [conventions.endingAfterJump === 'last' ? passage.times : 1] : all;
}

function indices(passage: Passage, bracket: Passage['brackets'][number] | undefined, at: number): number[] {
  const list: number[] = [];
  for (let i = Math.max(passage.from, at); i < passage.bodyEnd; i++) list.push(i);
  if (bracket !== undefined) for (let i = Math.max(bracket.from, at); i < bracket.to; i++) list.push(i);
  return list;
}
