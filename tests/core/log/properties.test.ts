import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogEvent } from '../../../src/core/log/events.ts';
import { at, fold, follows, step } from '../../../src/core/log/fold.ts';
import { mergeEvents } from '../../../src/core/log/merge.ts';
import { iso, planOf, rope, where, Writer } from './make.ts';

const ids = ['b1', 'b2', 'b1', 'b3'];
const act = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      do: fc.constant('pass' as const),
      verdict: fc.constantFrom(
        'clean' as const,
        'clean' as const,
        'clean' as const,
        'slip' as const,
        'unsure' as const,
        'void' as const,
      ),
      by: fc.constantFrom('key' as const, 'nobody' as const, 'ear' as const),
      kind: fc.constantFrom(
        'drill' as const,
        'drill' as const,
        'trial' as const,
        'cold' as const,
        'recall' as const,
      ),
      brokenBy: fc.constantFrom('player' as const, 'machine' as const),
    }),
  },
  fc.record({
    do: fc.constant('vouch' as const),
    verdict: fc.constantFrom('clean' as const, 'slip' as const),
  }),
  fc.record({ do: fc.constant('undo' as const) }),
  fc.record({ do: fc.constant('redo' as const) }),
  fc.record({ do: fc.constant('wait' as const), minutes: fc.constantFrom(3, 11, 900) }),
  fc.record({ do: fc.constant('sitting' as const) }),
  fc.record({
    do: fc.constant('step' as const),
    from: fc.nat(1),
    length: fc.nat(2),
    bpm: fc.constantFrom(50, 60, 70),
    why: fc.constantFrom(
      'skip' as const,
      'back' as const,
      'chosen' as const,
      'left-open' as const,
      'half' as const,
      'repeat' as const,
    ),
  }),
  fc.record({
    do: fc.constant('tempo' as const),
    bpm: fc.constantFrom(55, 70),
    why: fc.constantFrom('chosen' as const, 'slower' as const),
  }),
  fc.record({
    do: fc.constant('join' as const),
    as: fc.constantFrom('stays' as const, 'goes' as const, 'apart' as const),
    steps: fc.nat(3),
    bars: fc.constantFrom(ids, ['b3', 'b2', 'b1']),
  }),
  fc.record({
    do: fc.constant('plan' as const),
    n: fc.constantFrom(1, 2, 3),
    bars: fc.constantFrom(ids, ['b1', 'b4'], ['b3', 'b2', 'b1']),
  }),
);
type Act = typeof act extends fc.Arbitrary<infer T> ? T : never;

function play(w: Writer, acts: readonly Act[]): Writer {
  for (const a of acts) {
    if (a.do === 'pass')
      w.pass({
        verdict: a.verdict,
        by: a.by,
        kind: a.kind,
        ...(a.verdict === 'void' && { brokenBy: a.brokenBy }),
      });
    if (a.do === 'vouch') w.vouch(a.verdict);
    if (a.do === 'undo' && w.state.undo) w.write({ type: 'undone', event: w.state.undo.event });
    if (a.do === 'redo') {
      const undone = w.events.findLast((e) => e.type === 'undone');
      if (undone) w.write({ type: 'undone', event: undone.id });
    }
    if (a.do === 'wait') w.clock += a.minutes * 60;
    if (a.do === 'sitting') w.sitting += '+';
    if (a.do === 'step' && w.state.plan)
      w.write({
        type: 'step',
        plan: w.state.plan.event,
        from: a.from,
        to: a.from + a.length,
        bpm: a.bpm,
        why: a.why,
      });
    if (a.do === 'tempo') w.write({ type: 'tempo', bpm: a.bpm, why: a.why });
    if (a.do === 'join') {
      const done = Array.from({ length: a.steps }, (_, i) => ({ from: i % 3, to: i % 3, bpm: 60, nth: 0 }));
      w.write({
        type: 'joined',
        with: 'd',
        as: a.as,
        passes: 2,
        done: [{ bars: planOf(a.bars).bars, done }],
      });
    }
    if (a.do === 'plan') w.plan(planOf(a.bars, { streak: a.n, goal: 70 }));
  }
  return w;
}
function started(): Writer {
  const w = new Writer();
  w.plan(planOf(ids, { streak: 2, goal: 70 }));
  return w;
}
const acts = fc.array(act, { maxLength: 40 });

/** Three machines that share a beginning and never met since. */
const logs = fc.tuple(acts, acts, acts, acts).map(([shared, ...rest]) => {
  const common = play(started(), shared).events;
  return rest.map((own, i) => {
    const w = new Writer(`w${i}`, `s${i}`, common);
    w.clock = 5000 * (i + 1);
    return play(w, own).events;
  });
});
const shuffled = (events: readonly LogEvent[], seed: number) =>
  events
    .map((e, i) => [Math.imul(i + 1, seed | 1) >>> 7, e] as const)
    .sort(([a], [b]) => a - b)
    .map(([, e]) => e);

describe('merging', () => {
  test('is commutative, associative and idempotent, and every order folds the same', () => {
    fc.assert(
      fc.property(logs, fc.integer(), ([a, b, c], seed) => {
        const merged = mergeEvents(a!, b!, c!);
        expect(mergeEvents(c!, a!, b!)).toEqual(merged);
        expect(mergeEvents(mergeEvents(a!, b!), c!)).toEqual(merged);
        expect(mergeEvents(merged, b!, merged)).toEqual(merged);
        expect(fold(shuffled(merged, seed))).toEqual(fold(merged));
      }),
      { numRuns: 150 },
    );
  });

  test('of two contents of one id the smaller wins, whichever comes first', () => {
    const w = started();
    const [plan] = w.events;
    const other = { ...plan!, zone: 'A' };
    expect(mergeEvents([plan!], [other])).toEqual([other]);
    expect(mergeEvents([other], [plan!])).toEqual([other]);
  });

  test('a machine goes on from the merged log in its own right', () => {
    fc.assert(
      fc.property(logs, ([a, b]) => {
        const w = new Writer('later', 'later', mergeEvents(a!, b!));
        w.clock = 100_000;
        const before = where(w.state);
        if (!w.state.step) return;
        w.pass();
        // Its pass goes on from what shows: a knot more, or the step done.
        expect(rope(w.state).endsWith('T') || where(w.state) !== before).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});

describe('the fold', () => {
  test('one event more is the same as all of them anew', () => {
    let steps = 0;
    fc.assert(
      fc.property(acts, (list) => {
        const { events } = play(started(), list);
        let state = fold(events.slice(0, 1));
        for (const [i, event] of events.entries()) {
          if (i === 0) continue;
          const whole = fold(events.slice(0, i + 1));
          if (follows(state, event)) steps++;
          state = follows(state, event) ? step(state, event) : whole;
          // Through JSON, as a snapshot is: nothing may hide in what JSON cannot hold.
          expect(JSON.parse(JSON.stringify(state.inner))).toEqual(whole.inner);
        }
      }),
      { numRuns: 80 },
    );
    expect(steps).toBeGreaterThan(200);
  });

  test('step and at leave their argument as it was', () => {
    fc.assert(
      fc.property(acts, (list) => {
        const w = play(started(), list);
        const before = fold(w.events);
        const copy = structuredClone(before);
        at(before, iso(1e7));
        const next = w.pass();
        if (follows(before, next)) step(before, next);
        expect(before).toEqual(copy);
      }),
      { numRuns: 60 },
    );
  });

  test('undo and its undo give back the very state', () => {
    fc.assert(
      fc.property(acts, (list) => {
        const w = play(started(), list);
        const before = w.state;
        if (!before.undo) return;
        const undone = w.write({ type: 'undone', event: before.undo.event });
        w.write({ type: 'undone', event: undone.id });
        const { last, inner, ...seen } = w.state;
        const { last: lastBefore, inner: innerBefore, ...seenBefore } = before;
        expect(seen).toEqual(seenBefore);
        expect(last?.seq).toBe((lastBefore?.seq ?? 0) + 2);
        expect(inner.done).toEqual(innerBefore.done);
      }),
      { numRuns: 60 },
    );
  });

  test('what the next writer needs stays small, however long the log', () => {
    const size = (n: number) => {
      const w = started();
      const plan = w.events[0]!;
      let state = fold([plan]);
      let pass = w.pass({ verdict: 'clean', by: 'nobody' });
      for (let i = 0; i < n; i++) {
        pass = {
          ...pass,
          id: `p${i}`,
          seq: i + 1,
          place: i % 50,
          after: i === 0 ? plan.id : `p${i - 1}`,
          sitting: `t${String(Math.floor(i / 50)).padStart(6, '0')}`,
        };
        if (pass.type === 'pass')
          pass = { ...pass, verdict: i % 5 === 4 ? 'void' : 'clean', brokenBy: 'machine' };
        expect(follows(state, pass)).toBe(true);
        state = step(state, pass);
      }
      return JSON.stringify(state.inner).length;
    };
    expect(size(8000)).toBeLessThan(size(800) * 1.1);
  });
});

describe('two machines at once', () => {
  const begun = () => {
    const w = started();
    w.plan(planOf(ids, { streak: 9 }));
    for (let i = 0; i < 3; i++) w.pass();
    return w.events;
  };

  test('each goes on from its own last pass; the later in the log shows', () => {
    const a = new Writer('a2', 's1', begun());
    const b = new Writer('b2', 's2', begun());
    a.clock = b.clock = 40;
    for (let i = 0; i < 4; i++) a.pass();
    b.pass();
    expect(rope(fold(mergeEvents(a.events, b.events)))).toBe('TTTT');
    const slipped = new Writer('a3', 's1', begun());
    slipped.clock = 40;
    slipped.pass({ verdict: 'slip' });
    expect(rope(fold(mergeEvents(slipped.events, b.events)))).toBe('TTTT');
  });

  test('naming the chart elsewhere cuts no rope', () => {
    const a = new Writer('a2', 's1', begun());
    const b = new Writer('b2', 's2', begun());
    a.clock = 40;
    a.pass();
    b.write({ type: 'named', name: 'Other' });
    const c = new Writer('c2', 's3', mergeEvents(a.events, b.events));
    c.clock = 60;
    c.pass();
    expect([rope(c.state), c.state.name]).toEqual(['TTTTT', 'Other']);
  });

  test('what either has done stays done', () => {
    const common = started().events;
    const a = new Writer('a2', 's1', common);
    const b = new Writer('b2', 's2', common);
    for (const w of [a, a, b, b, b, b]) w.pass();
    expect(fold(mergeEvents(a.events, b.events)).rungs[0]?.done).toBe(2);
  });

  test('marks saved apart: the last shows, the other is a fork until taken up', () => {
    const w = new Writer();
    const marks = { version: 1, systems: [], meter: { beats: 4, value: 4 }, unit: null } as const;
    const root = w.write({ type: 'marks', parent: null, marks });
    const a = new Writer('a2', 's1', w.events);
    const b = new Writer('b2', 's2', w.events);
    const ofA = a.write({ type: 'marks', parent: root.id, marks });
    const ofB = b.write({ type: 'marks', parent: root.id, marks });
    const merged = fold(mergeEvents(a.events, b.events));
    expect([merged.marks?.event, merged.forks]).toEqual([ofB.id, [ofA.id]]);
  });

  test('an old save never revives a chart; opening it again does', () => {
    const w = new Writer();
    w.write({ type: 'opened', document: 'd', name: 'Tune' });
    const old = w.events;
    const b = new Writer('b2', 's2', old);
    for (let i = 0; i < 30; i++) b.write({ type: 'named', name: 'Tune' });
    const a = new Writer('a2', 's1', old);
    a.write({ type: 'removed' });
    const merged = mergeEvents(a.events, b.events);
    expect(fold(merged).removed).toBe(true);
    const c = new Writer('c2', 's3', merged);
    c.write({ type: 'opened', document: 'd', name: 'Tune' });
    expect(c.state.removed).toBe(false);
  });
});
