import { describe, expect, test } from 'vitest';
import type { StepBody } from '../../../src/core/log/events.ts';
import { planOf, rope, where, Writer } from './make.ts';

const three = ['b1', 'b2', 'b3'];

function begin(change = {}): Writer {
  const w = new Writer();
  w.plan(planOf(three, { streak: 2, ...change }));
  return w;
}
const done = (w: Writer, steps = 1) => {
  for (let i = 0; i < steps; i++) for (let n = 0; n < 2; n++) w.pass();
};
const go = (w: Writer, from: number, to: number, why: StepBody['why'], bpm = 60) =>
  w.write({ type: 'step', from, to, bpm, why, plan: w.state.plan!.event });

describe('up the ladder', () => {
  test('every step of a rung by hand, then the next rung, then the goal', () => {
    // 3 bars, worked out from the method: 1, 2, 1–2, 3, 1–3.
    const w = begin({ goal: 70 });
    const seen: string[] = [];
    while (!w.state.finished) {
      seen.push(where(w.state));
      done(w);
    }
    const rung = (bpm: number) => ['1–1', '2–2', '1–2', '3–3', '1–3'].map((span) => `${span} at ${bpm}`);
    expect(seen).toEqual([...rung(60), ...rung(70)]);
    expect(w.state.step).toBeNull();
    expect(w.state.rungs).toEqual([
      { bpm: 60, done: 5, steps: 5 },
      { bpm: 70, done: 5, steps: 5 },
    ]);
  });

  test('a rung to be climbed twice', () => {
    const w = begin({ goal: 70, repeatedRungs: [60] });
    done(w, 5);
    expect(where(w.state)).toBe('1–1 at 60');
    done(w, 5);
    expect(where(w.state)).toBe('1–1 at 70');
  });

  test('a step skipped or left open comes at the end of its rung', () => {
    const w = begin();
    go(w, 1, 1, 'skip');
    expect(w.state.open).toEqual([{ from: 0, to: 0 }]);
    done(w, 4);
    expect(where(w.state)).toBe('1–1 at 60');
    done(w);
    expect([where(w.state), w.state.open]).toEqual(['1–1 at 70', []]);
  });

  test('left open names the step itself: the next one', () => {
    const w = begin();
    go(w, 0, 0, 'left-open');
    expect([where(w.state), w.state.open]).toEqual(['2–2 at 60', [{ from: 0, to: 0 }]]);
  });

  test('back to a done step and on from where the ladder was', () => {
    const w = begin();
    done(w, 2);
    w.pass();
    go(w, 0, 0, 'back');
    expect([where(w.state), rope(w.state)]).toEqual(['1–1 at 60', '']);
    done(w);
    expect([where(w.state), rope(w.state)]).toEqual(['1–2 at 60', 'T']);
  });

  test('half the span, then the wall again as it was', () => {
    const w = begin();
    done(w, 2);
    w.pass();
    go(w, 1, 1, 'half');
    expect(w.state.step).toMatchObject({ from: 1, to: 1 });
    done(w);
    expect([where(w.state), rope(w.state)]).toEqual(['1–2 at 60', 'T']);
  });

  test('slower for a while, and then at the rung’s tempo', () => {
    const w = begin();
    w.write({ type: 'tempo', bpm: 50, why: 'slower' });
    expect(w.state.step).toMatchObject({ bpm: 50, kind: 'chosen', index: -1 });
    done(w);
    expect(where(w.state)).toBe('1–1 at 60');
  });

  test('another rung’s tempo chosen by hand is that rung', () => {
    const w = begin();
    w.write({ type: 'tempo', bpm: 70, why: 'chosen' });
    done(w);
    expect([where(w.state), w.state.rungs.map((r) => r.done)]).toEqual(['2–2 at 70', [0, 1, 0]]);
  });

  test('undo and redo', () => {
    const w = begin();
    w.pass();
    const second = w.pass();
    expect(where(w.state)).toBe('2–2 at 60');
    expect(w.state.undo).toEqual({ event: second.id, type: 'pass' });
    const undone = w.write({ type: 'undone', event: second.id });
    expect([where(w.state), rope(w.state)]).toEqual(['1–1 at 60', 'T']);
    w.write({ type: 'undone', event: undone.id });
    expect([where(w.state), rope(w.state)]).toEqual(['2–2 at 60', '']);
  });
});

describe('a new plan', () => {
  test('keeps what was done where the same bars come again, and the streak begun', () => {
    const w = begin();
    done(w, 1);
    w.pass();
    w.plan(planOf(three, { streak: 3 }));
    expect([where(w.state), rope(w.state), w.state.rungs[0]?.done]).toEqual(['2–2 at 60', 'T', 1]);
  });

  test('what one plan leaves out is done again under the next', () => {
    const w = begin();
    done(w, 2);
    w.plan(shifted(['b1', 'x', 'y']));
    expect(w.state.rungs[0]?.done).toBe(1);
    w.plan(planOf(three, { streak: 2 }));
    expect([w.state.rungs[0]?.done, where(w.state)]).toEqual([2, '1–2 at 60']);
  });

  test('fewer in a row may be enough at once', () => {
    const w = begin({ streak: 5 });
    done(w, 1);
    w.plan(planOf(three, { streak: 2 }));
    expect(where(w.state)).toBe('2–2 at 60');
  });
});

/** A plan of bars boxed elsewhere on the page, so that only ids can match. */
function shifted(ids: readonly string[]) {
  const plan = planOf(ids, { streak: 2 });
  return {
    ...plan,
    bars: plan.bars.map((bar) => ({ ...bar, boxes: bar.boxes.map((b) => ({ ...b, page: 1 })) })),
  };
}
