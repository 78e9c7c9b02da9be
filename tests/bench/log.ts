/** Long logs as a player would write them: the same shapes, the ladder followed step by step. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defaultNumbers, planOf } from '../../src/core/chart/plan.ts';
import type { Marks } from '../../src/core/chart/types.ts';
import type { EventBody, LogEvent } from '../../src/core/log/events.ts';
import { emptyState, step, type Folded } from '../../src/core/log/fold.ts';

const samples = resolve(import.meta.dirname, '../../sample-pdfs');
const START = Date.UTC(2026, 0, 5, 18, 0, 0);
/** Events of one sitting; the next is a day later. */
const SITTING = 400;

export interface LongLog {
  readonly events: readonly LogEvent[];
  readonly state: Folded;
  /** One more pass of the step that the log stands on. */
  another(): LogEvent;
}

/** Numbers below 1, the same in every run (Park and Miller's minimal standard generator). */
function rolls(): () => number {
  let seed = 20260105;
  return () => (seed = (seed * 48271) % 2147483647) / 2147483647;
}

/**
 * A log of `length` events over the sample of 32 bars with its own marks: a tenth of the passes slip,
 * a fifth are vouched for afterwards; once the goal is reached spans are chosen by hand.
 */
export function longLog(length: number, chart = hashOfSample(), prefix = 'e'): LongLog {
  const marks = JSON.parse(readFileSync(resolve(samples, 'aaba.marks.json'), 'utf8')) as Marks;
  const plan = planOf(marks, defaultNumbers);
  const roll = rolls();
  const events: LogEvent[] = [];
  let state = emptyState(chart);

  const make = (body: EventBody): LogEvent => {
    const seq = events.length;
    const sitting = Math.floor(seq / SITTING);
    const at = START + sitting * 86_400_000 + (seq % SITTING) * 5_000;
    return {
      ...body,
      v: 1,
      id: `${prefix}-${seq}`,
      chart,
      sitting: `${prefix}-sitting-${String(sitting).padStart(6, '0')}`,
      place: seq % SITTING,
      seq,
      after: events.at(-1)?.id ?? null,
      at: new Date(at).toISOString(),
      zone: 'UTC',
    };
  };
  const write = (body: EventBody): void => {
    const event = make(body);
    state = step(state, event);
    events.push(event);
  };
  const planEvent = `${prefix}-2`;
  const passOf = (now: NonNullable<Folded['step']>, luck: number): EventBody => ({
    type: 'pass',
    plan: planEvent,
    from: now.from,
    to: now.to,
    bpm: now.bpm,
    unit: 'quarter',
    seconds: ((now.to - now.from + 1) * 4 * 60) / now.bpm,
    kind: state.cold ? 'cold' : 'drill',
    verdict: luck < 0.1 ? 'slip' : 'clean',
    by: luck < 0.3 ? (luck < 0.1 ? 'pedal' : 'nobody') : 'key',
    slips: luck < 0.1 ? [{ beat: 2 }] : [],
  });

  write({ type: 'opened', document: chart, name: 'aaba' });
  write({ type: 'marks', parent: null, marks });
  write({ type: 'plan', marks: `${prefix}-1`, plan });
  while (events.length < length) {
    const now = state.step;
    const loose = state.knots.filter(({ tie }) => tie === 'loose').map(({ pass }) => pass);
    if (!now) {
      const from = Math.floor(roll() * plan.bars.length);
      write({ type: 'step', plan: planEvent, from, to: from, bpm: 100, why: 'chosen' });
    } else if (loose.length > 0 && roll() < 0.7)
      write({ type: 'vouched', passes: loose, verdict: 'clean', by: 'key' });
    else write(passOf(now, roll()));
  }
  return { events, state, another: () => make(passOf(state.step ?? { ...NO_STEP }, 0.5)) };
}

const NO_STEP: NonNullable<Folded['step']> = {
  from: 0,
  to: 0,
  bpm: 100,
  streak: 10,
  kind: 'chosen',
  index: -1,
};

function hashOfSample(): string {
  return createHash('sha256')
    .update(readFileSync(resolve(samples, 'aaba.pdf')))
    .digest('hex');
}
