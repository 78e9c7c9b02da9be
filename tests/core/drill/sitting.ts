/** A sitting played against the real fold of the log, on a clock of our own. */
import { defaultNumbers } from '../../../src/core/chart/plan.ts';
import type { Numbers, Plan, RouteBar } from '../../../src/core/chart/types.ts';
import { next, start } from '../../../src/core/drill/machine.ts';
import type { DrillState, Effect, Input, Laid } from '../../../src/core/drill/state.ts';
import type { DrillSettings } from '../../../src/core/drill/types.ts';
import type { EventBody, LogEvent } from '../../../src/core/log/events.ts';
import { at, fold, type Folded } from '../../../src/core/log/fold.ts';

export const rolling: DrillSettings = { mode: 'rolling', countIn: { bars: 1 }, gap: 1, halvesFrom: null };
export const single: DrillSettings = { ...rolling, mode: 'one-at-a-time' };

const MORNING = Date.parse('2026-03-02T09:00:00.000Z');

export function planWith(beats: readonly number[], numbers: Partial<Numbers>): Plan {
  const bars = beats.map((length, place): RouteBar => ({
    bar: `bar-${place}`,
    boxes: [],
    number: place + 1,
    twin: place,
    section: 0,
    meter: { beats: length, value: 4 },
    unit: 'quarter',
    beats: length,
    silent: false,
    tied: false,
    leadIn: 0,
  }));
  return {
    version: 1,
    bars,
    sections: [{ from: 0, to: bars.length - 1, name: '' }],
    pickup: null,
    numbers: { ...defaultNumbers, ...numbers },
  };
}

interface Options {
  readonly beats?: readonly number[];
  readonly numbers?: Partial<Numbers>;
  readonly settings?: DrillSettings;
  readonly firstWeek?: boolean;
  /** Commits wait for `commit()`. */
  readonly slowDisk?: boolean;
}

export class Sitting {
  state: DrillState;
  now = 10;
  /** Seconds from what is rendered to what is heard. */
  latency = 0;
  /** Seconds that the wall clock is ahead of the audio clock: pauses. */
  away = 0;
  sitting = 'sitting-1';
  readonly events: LogEvent[] = [];
  readonly effects: Effect[] = [];
  readonly #uncommitted: (readonly EventBody[])[] = [];
  readonly #slow: boolean;

  constructor(options: Options = {}) {
    this.#slow = options.slowDisk ?? false;
    const marks = { version: 1, systems: [], meter: { beats: 4, value: 4 }, unit: null } as const;
    this.#keep([
      { type: 'opened', document: 'f'.repeat(64), name: 'A tune' },
      { type: 'marks', parent: null, marks },
    ]);
    const plan = planWith(options.beats ?? [4, 4], { streak: 3, joinStreak: 3, ...options.numbers });
    this.#keep([{ type: 'plan', marks: this.events[1]!.id, plan }]);
    this.state = start(this.chart, options.settings ?? rolling, options.firstWeek ?? false);
  }

  get chart(): Folded {
    return at(fold(this.events), this.#iso());
  }

  /** The pass that is on. */
  get on(): Laid | undefined {
    return this.state.queue[0];
  }

  get ties(): string {
    return this.state.chart.knots.map((knot) => ({ tight: 'T', loose: 'L', gap: '-' })[knot.tie]).join('');
  }

  get passes() {
    return this.events.filter((event) => event.type === 'pass');
  }

  get span(): string {
    const { step } = this.state.chart;
    return step ? `${step.from}-${step.to}@${step.bpm}` : 'none';
  }

  give(input: Input): this {
    const moment = { clock: this.now, heard: this.now - this.latency, ms: (this.now + this.away) * 1000 };
    const { state, effects } = next(this.state, input, moment);
    this.state = state;
    this.effects.push(...effects);
    for (const effect of effects) if (effect.type === 'record') this.#uncommitted.push(effect.bodies);
    if (!this.#slow) this.commit();
    return this;
  }

  commit(): this {
    const bodies = this.#uncommitted.shift();
    if (!bodies) return this;
    this.#keep(bodies);
    return this.give({ type: 'committed', chart: this.chart }).commit();
  }

  begin(): this {
    return this.give({ type: 'begin', chart: this.chart });
  }

  press(verdict: 'clean' | 'slip'): this {
    return this.give({ type: 'answer', verdict, by: 'pedal' });
  }

  to(time: number): this {
    this.now = Math.max(this.now, time);
    return this.give({ type: 'tick' });
  }

  wait(seconds: number): this {
    return this.to(this.now + seconds);
  }

  /** Into the middle of the pass that is on. */
  intoPass(): this {
    const { startAt, endAt } = this.on!.order;
    return this.to(startAt + 0.1).to((startAt + endAt) / 2);
  }

  /** Just over the end of the pass that is on. */
  overPass(times = 1): this {
    for (let i = 0; i < times; i++) this.to(this.on!.order.endAt + 0.05);
    return this;
  }

  cleanPass(times = 1): this {
    for (let i = 0; i < times; i++) this.overPass().wait(0.5).press('clean');
    return this;
  }

  #iso(): string {
    return new Date(MORNING + (this.now + this.away) * 1000).toISOString();
  }

  #keep(bodies: readonly EventBody[]): void {
    for (const body of bodies) {
      const seq = this.events.length;
      const place = this.events.filter((event) => event.sitting === this.sitting).length;
      const base = {
        v: 1 as const,
        id: `event-${seq}`,
        chart: 'chart',
        sitting: this.sitting,
        place,
        seq,
        after: this.events.at(-1)?.id ?? null,
        at: this.#iso(),
        zone: 'UTC',
      };
      this.events.push({ ...base, ...body });
    }
  }
}
