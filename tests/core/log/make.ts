/** A chart of plain 4/4 bars and a writer of its log: what the tests of the log share. */
import type { Numbers, Plan } from '../../../src/core/chart/types.ts';
import type { EventBase, EventBody, LogEvent, PassBody } from '../../../src/core/log/events.ts';
import { emptyState, fold, type Folded } from '../../../src/core/log/fold.ts';

export const numbers: Numbers = {
  streak: 3,
  joinStreak: 3,
  start: 60,
  step: 10,
  goal: 80,
  doubleStepAbove: null,
  sectionLength: null,
  joining: 'one-by-one',
  seams: false,
  differing: false,
  twins: true,
  silence: true,
  skipped: [],
  repeatedRungs: [],
};

export function planOf(ids: readonly string[], change: Partial<Numbers> = {}): Plan {
  return {
    version: 1,
    bars: ids.map((bar, i) => ({
      bar,
      boxes: [{ page: 0, box: [i / 100, 0.1, (i + 1) / 100, 0.2], reach: [i / 100, 0, (i + 1) / 100, 0.3] }],
      number: i + 1,
      twin: ids.indexOf(bar),
      section: 0,
      meter: { beats: 4, value: 4 },
      unit: 'quarter',
      beats: 4,
      silent: false,
      tied: false,
      leadIn: 0,
    })),
    sections: [{ from: 0, to: ids.length - 1, name: 'A' }],
    pickup: null,
    numbers: { ...numbers, ...change },
  };
}

export const START = Date.UTC(2026, 0, 5, 18, 0, 0);
export const iso = (seconds: number): string => new Date(START + seconds * 1000).toISOString();

/** Writes a log as one machine would; `clock` in seconds since the start. */
export class Writer {
  clock = 0;
  events: LogEvent[] = [];
  private made = 0;

  constructor(
    readonly name = 'a',
    public sitting = `${name}0`,
    seen: readonly LogEvent[] = [],
  ) {
    this.events = [...seen];
  }

  get state(): Folded {
    return this.events.length > 0 ? fold(this.events) : emptyState('c');
  }

  write(body: EventBody, change: Partial<EventBase> = {}): LogEvent {
    const { inner, last } = this.state;
    const event = {
      ...body,
      v: 1,
      id: `${this.name}-${this.made++}`,
      chart: 'c',
      sitting: this.sitting,
      place: last?.sitting === this.sitting ? last.place + 1 : 0,
      seq: inner.highest + 1,
      after: inner.tip,
      at: iso(this.clock),
      zone: 'Europe/Berlin',
      ...change,
    } as LogEvent;
    this.events.push(event);
    return event;
  }

  plan(plan: Plan): LogEvent {
    return this.write({ type: 'plan', marks: 'm', plan });
  }

  /** A pass of the current step, ten seconds after the last event. */
  pass(change: Partial<PassBody> = {}): LogEvent {
    this.clock += 10;
    const { step, plan } = this.state;
    return this.write({
      type: 'pass',
      from: step?.from ?? 0,
      to: step?.to ?? 0,
      bpm: step?.bpm ?? 60,
      plan: plan?.event ?? 'none',
      unit: 'quarter',
      seconds: 4,
      kind: 'drill',
      verdict: 'clean',
      by: 'key',
      slips: [],
      ...change,
    });
  }

  vouch(verdict: 'clean' | 'slip' = 'clean'): LogEvent {
    const passes = this.state.knots.flatMap((k) => (k.tie === 'loose' && !k.vouched ? [k.pass] : []));
    return this.write({ type: 'vouched', passes, verdict, by: 'key' });
  }
}

/** The rope as text: T tight, l loose, L loose but vouched for, - a gap. */
export const rope = (state: Folded): string =>
  state.knots.map((k) => (k.tie === 'tight' ? 'T' : k.tie === 'gap' ? '-' : k.vouched ? 'L' : 'l')).join('');

export const where = ({ step }: Folded): string =>
  step ? `${step.from + 1}–${step.to + 1} at ${step.bpm}` : 'nowhere';
