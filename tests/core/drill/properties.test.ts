import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LEAST_GAP } from '../../../src/core/beat/timeline.ts';
import type { Input } from '../../../src/core/drill/state.ts';
import { rolling, single, Sitting } from './sitting.ts';

type Move = { readonly wait: number; readonly input: Input | 'begin' | null };

const input = fc.oneof(
  { weight: 20, arbitrary: fc.constant(null) },
  { weight: 2, arbitrary: fc.constant('begin' as const) },
  ...(['clean', 'slip'] as const).map((verdict) => ({
    weight: 3,
    arbitrary: fc.constant<Input>({ type: 'answer', verdict, by: 'key' }),
  })),
  ...(['pause', 'undo', 'trial', 'repeat', 'skip', 'back'] as const).map((type) => ({
    weight: 1,
    arbitrary: fc.constant<Input>({ type }),
  })),
  { weight: 1, arbitrary: fc.constant<Input>({ type: 'broke', reason: 'device' }) },
  { weight: 1, arbitrary: fc.constant<Input>({ type: 'choose', choice: 'slower' }) },
  { weight: 1, arbitrary: fc.integer({ min: 30, max: 300 }).map((bpm): Input => ({ type: 'tempo', bpm })) },
);
const moves = fc.array(
  fc.record<Move>({ wait: fc.integer({ min: 0, max: 12_000 }).map((ms) => ms / 1000), input }),
  { maxLength: 60 },
);
const setup = fc.record({
  settings: fc.constantFrom(rolling, single, { ...rolling, countIn: { beats: 2 } }, { ...rolling, gap: 3 }),
  beats: fc.constantFrom([4], [4, 3], [3.5, 3.5, 2]),
  slowDisk: fc.boolean(),
  latency: fc.constantFrom(0, 0.25),
});

interface Interval {
  readonly id: string;
  readonly from: number;
  to: number;
  readonly startAt: number;
  readonly endAt: number;
}

/** Plays the moves; on a slow disk commits come one move late. */
function play(s: Sitting, list: readonly Move[], look: (s: Sitting) => void): void {
  s.begin();
  for (const { wait, input } of list) {
    s.wait(wait);
    look(s);
    if (input === 'begin') s.begin();
    else if (input) s.give(input);
    look(s);
    s.commit();
    look(s);
  }
}

describe('whatever is pressed, whenever', () => {
  it('never has two passes on the clock at once, and gives every one three seconds of gap', () => {
    fc.assert(
      fc.property(setup, moves, ({ latency, ...options }, list) => {
        const s = new Sitting({ ...options, numbers: { streak: 3 } });
        s.latency = latency;
        play(s, list, () => undefined);
        // What really sounded: each pass up to its end or to where it was taken back.
        const sounded: Interval[] = [];
        for (const effect of s.effects) {
          if (effect.type === 'schedule') {
            const { id, countInAt, startAt, endAt } = effect.order;
            sounded.push({ id, from: countInAt, to: endAt, startAt, endAt });
          } else if (effect.type === 'cancel')
            for (const each of sounded) each.to = Math.min(each.to, effect.from);
        }
        // A pass has begun when its first beat has been heard, and breaks off where it is heard to.
        const begun = sounded.filter((each) => each.to > each.startAt + latency);
        for (const [i, each] of begun.entries()) {
          const before = begun[i - 1];
          if (!before) continue;
          expect(each.from).toBeGreaterThanOrEqual(before.to - 0.0011 - 1e-6);
          const gap = each.startAt - Math.min(before.to, before.endAt);
          expect(gap).toBeGreaterThanOrEqual(LEAST_GAP - latency - 0.0011);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('never has more passes on the clock than the rope has places', () => {
    fc.assert(
      fc.property(setup, moves, ({ latency, ...options }, list) => {
        const s = new Sitting({ ...options, numbers: { streak: 3 } });
        s.latency = latency;
        play(s, list, ({ state }) => {
          const counted = state.queue.filter(({ order }) => order.kind !== 'trial').length;
          expect(counted).toBeLessThanOrEqual(3);
          if (state.pending.length > 0 || state.run !== 'running' || state.begun) return;
          const knots = state.chart.knots.filter((knot) => knot.tie !== 'gap').length;
          expect(knots + counted).toBeLessThanOrEqual(state.chart.step?.streak ?? 0);
        });
      }),
      { numRuns: 200 },
    );
  });

  it('earns nothing in an empty room: without a clean press no step is ever done', () => {
    fc.assert(
      fc.property(setup, moves, ({ latency, ...options }, list) => {
        const s = new Sitting({ ...options, numbers: { streak: 2 } });
        s.latency = latency;
        const unpressed = list.filter(
          ({ input }) =>
            !(input && input !== 'begin' && input.type === 'answer' && input.verdict === 'clean'),
        );
        play(s, unpressed, ({ state }) => {
          expect(state.chart.rungs.reduce((sum, rung) => sum + rung.done, 0)).toBe(0);
          expect(state.chart.knots.every((knot) => knot.tie !== 'tight')).toBe(true);
        });
      }),
      { numRuns: 200 },
    );
  });

  it('records each pass once, and none that was not on the clock', () => {
    fc.assert(
      fc.property(setup, moves, ({ latency, ...options }, list) => {
        const s = new Sitting({ ...options, slowDisk: false, numbers: { streak: 3 } });
        s.latency = latency;
        play(s, list, () => undefined);
        const ordered = s.effects.filter((effect) => effect.type === 'schedule').length;
        expect(s.passes.length).toBeLessThanOrEqual(ordered);
        for (const pass of s.passes) expect(pass.seconds).toBeGreaterThan(0);
        expect(s.state.pending).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });
});
