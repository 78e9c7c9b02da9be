/** Long logs as a player would write them: the same shapes, the ladder followed step by step. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defaultNumbers, planOf } from '../../src/core/chart/plan.ts';
import type { Marks } from '../../src/core/chart/types.ts';
import { rungsOf, stepsOf } from '../../src/core/ladder/index.ts';
import type { EventBase, EventBody, EventId, LogEvent } from '../../src/core/log/events.ts';

const samples = resolve(import.meta.dirname, '../../sample-pdfs');
const START = Date.UTC(2026, 0, 5, 18, 0, 0);
/** Events of one sitting; the next is a day later. */
const SITTING = 400;

/** Where the writer of a log thinks that it stands; a fold has to come to the same. */
interface Where {
  from: number;
  to: number;
  bpm: number;
  /** Tight knots. */
  tight: number;
  loose: EventId[];
}

export interface LongLog {
  readonly events: readonly LogEvent[];
  readonly passes: number;
  readonly where: Readonly<Where>;
  /** One more clean pass of the step that the log stands on. */
  readonly another: LogEvent;
}

/** Numbers below 1, the same in every run (Park and Miller's minimal standard generator). */
function rolls(): () => number {
  let seed = 20260105;
  return () => (seed = (seed * 48271) % 2147483647) / 2147483647;
}

/**
 * A log of `length` events over the sample of 32 bars with its own marks: a tenth of the passes slip, some are
 * vouched for afterwards; once the goal is reached, steps are chosen by hand. It is written without a fold.
 */
export function longLog(length: number, chart = hashOfSample(), prefix = 'e'): LongLog {
  const marks = JSON.parse(readFileSync(resolve(samples, 'aaba.marks.json'), 'utf8')) as Marks;
  const plan = planOf(marks, defaultNumbers);
  const [steps, rungs] = [stepsOf(plan), rungsOf(plan.numbers)];
  const [needed, planEvent] = [plan.numbers.streak, `${prefix}-2`];
  if (steps.some(({ streak }) => streak !== needed))
    throw new Error('every step is meant to ask for the same');
  const roll = rolls();
  const events: LogEvent[] = [];
  let passes = 0;

  /** One string a sitting, not one an event. */
  let name = '';
  const make = (body: EventBody): LogEvent => {
    const seq = events.length;
    const sitting = Math.floor(seq / SITTING);
    if (seq % SITTING === 0) name = `${prefix}-sitting-${String(sitting).padStart(6, '0')}`;
    const at = START + sitting * 86_400_000 + (seq % SITTING) * 5_000;
    // Not spread: that gives every event a hidden shape of its own, which none read from a store has.
    const base: EventBase = {
      v: 1,
      id: `${prefix}-${seq}`,
      chart,
      sitting: name,
      place: seq % SITTING,
      seq,
      after: events.at(-1)?.id ?? null,
      at: new Date(at).toISOString(),
      zone: 'UTC',
    };
    return Object.assign(base, body);
  };
  const write = (body: EventBody): EventId => {
    const event = make(body);
    events.push(event);
    return event.id;
  };

  let climbed = 0;
  const stand = (): Where => {
    const step = steps[climbed % steps.length]!;
    const bpm = rungs[Math.floor(climbed / steps.length)]!;
    return { from: step.from, to: step.to, bpm, tight: 0, loose: [] };
  };
  let where = stand();
  const passed = (verdict: 'clean' | 'slip', by: 'key' | 'nobody'): EventBody => ({
    type: 'pass',
    plan: planEvent,
    from: where.from,
    to: where.to,
    bpm: where.bpm,
    unit: 'quarter',
    seconds: ((where.to - where.from + 1) * 4 * 60) / where.bpm,
    // A day after the last one the first pass is cold.
    kind: events.length % SITTING === 0 ? 'cold' : 'drill',
    verdict,
    by,
    slips: verdict === 'slip' ? [{ beat: 2 }] : [],
  });
  /** The next step, by the ladder or, when it has been climbed, by hand. */
  const goOn = () => {
    climbed++;
    if (climbed < steps.length * rungs.length) where = stand();
    else {
      const step = steps[Math.floor(roll() * steps.length)]!;
      where = { from: step.from, to: step.to, bpm: rungs.at(-1)!, tight: 0, loose: [] };
      const { from, to, bpm } = where;
      write({ type: 'step', plan: planEvent, from, to, bpm, why: 'chosen' });
    }
  };

  write({ type: 'opened', document: chart, name: 'aaba' });
  write({ type: 'marks', parent: null, marks });
  write({ type: 'plan', marks: `${prefix}-1`, plan });
  while (events.length < length) {
    const inSitting = events.length % SITTING;
    const luck = inSitting === 0 ? 1 : roll();
    const { loose, tight } = where;
    const full = tight + loose.length === needed;
    if (loose.length > 0 && (full || luck > 0.6 || inSitting > SITTING - 3)) {
      write({ type: 'vouched', passes: loose, verdict: 'clean', by: 'key' });
      where.tight += loose.length;
      where.loose = [];
    } else if (luck < 0.1) {
      write(passed('slip', 'key'));
      passes++;
      [where.tight, where.loose] = [0, []];
    } else {
      const by = luck < 0.3 && inSitting < SITTING - 3 ? 'nobody' : 'key';
      const id = write(passed('clean', by));
      passes++;
      if (by === 'nobody') loose.push(id);
      else [where.tight, where.loose] = [tight + loose.length + 1, []];
    }
    if (where.tight >= needed && events.length < length) goOn();
  }
  return { events, passes, where, another: make(passed('clean', 'key')) };
}

function hashOfSample(): string {
  return createHash('sha256')
    .update(readFileSync(resolve(samples, 'aaba.pdf')))
    .digest('hex');
}
