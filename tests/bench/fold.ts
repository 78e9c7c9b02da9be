/** The fold in memory: a million events, and one more. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { fold, follows, step, type Folded } from '../../src/core/log/fold.ts';
import { longLog } from './log.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

const MILLION = 1_000_000;
const FOLDS = 5;
const STEPS = 2000;

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Milliseconds that `work` takes, and what it made. */
function timed<T>(work: () => T): { ms: number; made: T } {
  const before = performance.now();
  const made = work();
  return { ms: performance.now() - before, made };
}

export function foldRows(): Row[] {
  const { events, passes, where, another } = longLog(MILLION);
  let state: Folded | null = null;
  const whole: number[] = [];
  const walk: number[] = [];
  for (let i = 0; i < FOLDS; i++) {
    // What making the log, or the fold before, has left behind is not this one's.
    collect();
    const folded = timed(() => fold(events));
    state = folded.made;
    const tight = state.knots.filter(({ tie }) => tie === 'tight').length;
    if (
      state.last?.seq !== MILLION - 1 ||
      state.passes !== passes ||
      state.step?.from !== where.from ||
      state.step.to !== where.to ||
      state.step.bpm !== where.bpm ||
      tight !== where.tight
    )
      throw new Error('the fold of a million events does not stand where its writer stood');
    whole.push(folded.ms);
    const walked = timed(() => events.reduce((sum, event) => sum + event.seq + event.id.length, 0));
    if (walked.made < MILLION) throw new Error('the walk did not go over every event');
    walk.push(walked.ms);
  }

  const log = state;
  if (!log || !follows(log, another)) throw new Error('the one more event would need a whole fold');
  const one: number[] = [];
  const clone: number[] = [];
  for (let i = 0; i < STEPS; i++) {
    one.push(timed(() => step(log, another)).ms);
    clone.push(timed(() => structuredClone(another)).ms);
  }
  return [
    measured({
      name: 'fold of 1,000,000 events',
      figure: { value: quantile(whole, 0.5), unit: 'ms' },
      baseline: { name: 'a bare walk over the same events', value: quantile(walk, 0.5), unit: 'ms' },
      bound: { of: 'figure', most: 1000 },
      spread: [spreadOf(whole), spreadOf(walk)],
      note: `median of ${FOLDS}, the slowest ${Math.round(Math.max(...whole))} ms`,
    }),
    measured({
      name: 'one more event after them (p99)',
      figure: { value: quantile(one, 0.99), unit: 'ms' },
      baseline: { name: 'a structured clone of the event (p99)', value: quantile(clone, 0.99), unit: 'ms' },
      bound: { of: 'figure', most: 1 },
      spread: [spreadOf(one), spreadOf(clone)],
    }),
  ];
}
