import { describe, expect, it } from 'vitest';
import { LEAST_GAP } from '../../../src/core/beat/timeline.ts';
import { rolling, single, Sitting } from './sitting.ts';

describe('rolling', () => {
  it('plays pass after pass, each tying a loose knot that nobody has vouched for', () => {
    const s = new Sitting().begin().overPass(2);
    expect(s.ties).toBe('LL');
    expect(s.passes.map(({ verdict, by, kind }) => `${verdict} ${by} ${kind}`)).toEqual([
      'clean nobody drill',
      'clean nobody drill',
    ]);
  });

  it('schedules the next pass while this one sounds', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin();
    expect(s.state.queue).toHaveLength(2);
    expect(s.state.queue[1]!.order.gapAt).toBe(s.state.queue[0]!.order.endAt);
  });

  it('waits at the Nth place for a press: nothing more is scheduled, and an empty room earns nothing', () => {
    const s = new Sitting().begin().overPass(3).wait(600);
    expect(s.state.phase).toBe('waiting');
    expect(s.ties).toBe('LLL');
    expect(s.span).toBe('0-0@60');
    expect(s.effects.filter((effect) => effect.type === 'schedule')).toHaveLength(3);
  });

  it('tightens all loose knots at one press there, says so quietly and counts in the next step', () => {
    const s = new Sitting().begin().overPass(3).wait(2).press('clean');
    expect(s.span).toBe('1-1@60');
    expect(s.state.sign).toBe('step');
    expect(s.on!.order).toMatchObject({ from: 1, to: 1 });
    s.to(s.on!.order.startAt);
    expect(s.state.sign).toBeNull();
  });

  it('lets the rope run out at a slip there, and goes on', () => {
    const s = new Sitting().begin().overPass(3).wait(2).press('slip');
    expect([s.ties, s.state.phase, s.span]).toEqual(['', 'count-in', '0-0@60']);
    expect(s.events.at(-1)).toMatchObject({ type: 'vouched', verdict: 'slip', passes: [s.passes[2]!.id] });
  });

  it('takes a clean press in mid-pass for the passes before it', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin().overPass(2).intoPass().press('clean');
    expect(s.ties).toBe('TT');
    s.overPass();
    expect(s.ties).toBe('TTL');
  });

  it('takes a clean press in the gap for the last pass too', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin().overPass(2).press('clean');
    expect(s.ties).toBe('TT');
  });

  it('takes a slip before the next pass begins for a slip of the last one, and the beat goes on', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin().overPass(2);
    const next = s.on!.order.id;
    s.wait(1).press('slip');
    expect(s.ties).toBe('');
    expect(s.events.at(-1)).toMatchObject({ type: 'vouched', verdict: 'slip', passes: [s.passes[1]!.id] });
    expect(s.on!.order.id).toBe(next);
  });

  it('changes its mind in the gap: slip after clean still lets the rope run out', () => {
    const s = new Sitting({ numbers: { streak: 10 } })
      .begin()
      .overPass(2)
      .press('clean')
      .wait(1)
      .press('slip');
    expect(s.ties).toBe('');
  });

  it('ignores a slip in the gap after a slip, and before the first pass', () => {
    const s = new Sitting().begin().press('slip').intoPass().press('slip');
    const kept = s.events.length;
    s.wait(1).press('slip');
    expect(s.events).toHaveLength(kept);
  });
});

describe('a slip in mid-pass', () => {
  it('ends the pass at once; the count-in clicks from the next bar line, so that the beat never breaks', () => {
    const s = new Sitting({ beats: [4, 4], numbers: { streak: 3 } }).begin();
    s.cleanPass(3).cleanPass(3); // bars 1 and 2 alone; now both
    const { startAt } = s.on!.order;
    s.to(startAt + 1.3).press('slip');
    expect(s.passes.at(-1)).toMatchObject({ verdict: 'slip', by: 'pedal', from: 0, to: 1 });
    expect(s.passes.at(-1)!.slips).toEqual([{ beat: 1.3 }]);
    expect(s.passes.at(-1)!.seconds).toBeCloseTo(1.3);
    const { order, timeline } = s.on!;
    expect(order.gapAt).toBe(startAt + 4);
    expect(order.countInAt).toBeCloseTo(order.gapAt, 9);
    expect(timeline.clicks.filter((click) => click.countIn)).toHaveLength(4);
    const cancel = s.effects.findLast((effect) => effect.type === 'cancel')!;
    expect(cancel.from).toBeGreaterThan(startAt + 4);
    expect(cancel.from).toBeLessThan(startAt + 4.01);
  });

  it('fills the whole gap with clicks when three seconds are several bars', () => {
    const s = new Sitting({ numbers: { start: 240, goal: 240 } }).begin();
    s.to(s.on!.order.startAt + 0.3).press('slip');
    const { order, timeline } = s.on!;
    expect(timeline.clicks.filter((click) => click.countIn)).toHaveLength(12);
    expect(order.startAt - order.gapAt).toBeCloseTo(3);
    expect(order.countInAt).toBeCloseTo(order.gapAt, 9);
  });

  it('is judged by what is heard, not by what is rendered', () => {
    const s = new Sitting();
    s.latency = 0.3;
    s.begin();
    s.to(s.on!.order.startAt + 0.2).press('slip'); // heard: still the count-in
    expect(s.passes).toHaveLength(0);
    s.to(s.on!.order.endAt + 0.2).press('slip'); // heard: still the pass
    expect(s.passes.at(-1)!.seconds).toBeCloseTo(3.9);
  });
});

describe('one at a time', () => {
  it('ends each pass with a verdict before the next count-in', () => {
    const s = new Sitting({ settings: single }).begin().overPass().wait(60);
    expect(s.state.phase).toBe('asking');
    expect(s.state.queue).toHaveLength(0);
    s.press('clean');
    expect([s.ties, s.state.phase]).toEqual(['T', 'count-in']);
    s.overPass().wait(1).press('slip');
    expect([s.ties, s.state.phase]).toEqual(['', 'count-in']);
  });

  it('keeps the next pass on a bar line after the landing, three seconds away at least', () => {
    const s = new Sitting({ settings: single }).begin().overPass().wait(1.5).press('clean');
    const { gapAt, startAt } = s.on!.order;
    expect((startAt - gapAt) / 4).toBeCloseTo(Math.round((startAt - gapAt) / 4), 9);
    expect(startAt - gapAt).toBeGreaterThanOrEqual(LEAST_GAP);
  });
});

describe('presses', () => {
  it('ignores a second press within 400 ms', () => {
    const s = new Sitting({ numbers: { streak: 10 } })
      .begin()
      .overPass(2)
      .press('clean')
      .wait(0.39)
      .press('slip');
    expect(s.ties).toBe('TT');
    s.wait(0.4).press('slip');
    expect(s.ties).toBe('');
  });

  it('shows nothing before the commit, and loses no press that comes meanwhile', () => {
    const s = new Sitting({ numbers: { streak: 10 }, slowDisk: true }).begin().overPass();
    expect(s.ties).toBe('');
    s.press('slip');
    expect(s.events.filter((event) => event.type === 'vouched')).toHaveLength(0);
    s.commit();
    expect(s.events.map((event) => event.type).slice(-2)).toEqual(['pass', 'vouched']);
    expect(s.ties).toBe('');
  });

  it('stops, tells and counts nothing when a verdict cannot be kept', () => {
    const s = new Sitting({ slowDisk: true }).begin().overPass().give({ type: 'broke', reason: 'not-kept' });
    expect(s.state).toMatchObject({ phase: 'stopped', stopped: 'not-kept', pending: [], queue: [] });
    expect(s.ties).toBe('');
    s.press('clean');
    expect(s.state.pending).toEqual([]);
  });
});

describe('breaking off', () => {
  const withKnot = () => new Sitting({ numbers: { streak: 10 } }).begin().cleanPass();

  it('costs nothing before the first beat', () => {
    const s = withKnot();
    s.to(s.on!.order.startAt - 0.2).give({ type: 'pause' });
    expect([s.ties, s.state.phase, s.passes.length]).toEqual(['T', 'paused', 1]);
    expect(s.state.queue).toEqual([]);
  });

  it('spends the one void of the streak, then is a slip', () => {
    const s = withKnot().intoPass().give({ type: 'pause' });
    expect(s.passes.at(-1)).toMatchObject({ verdict: 'void', brokenBy: 'player' });
    expect([s.ties, s.state.chart.voidSpent]).toEqual(['T-', true]);
    s.wait(20).begin().intoPass().give({ type: 'pause' });
    expect(s.passes.at(-1)).toMatchObject({ verdict: 'slip', by: 'nobody' });
    expect(s.ties).toBe('');
  });

  it.each(['suspended', 'hidden', 'device', 'silent', 'closed'] as const)(
    'is void by the machine when the sound is %s, as often as it happens',
    (reason) => {
      const s = withKnot();
      for (let i = 0; i < 3; i++) {
        s.intoPass().give({ type: 'broke', reason });
        expect(s.state).toMatchObject({ phase: 'stopped', stopped: reason });
        expect(s.passes.at(-1)).toMatchObject({ verdict: 'void', brokenBy: 'machine' });
        s.wait(5).begin();
      }
      expect(s.ties.replaceAll('-', '')).toBe('T');
      expect(s.state.chart.voidSpent).toBe(false);
    },
  );

  it('leaves the last pass open to a slip while paused', () => {
    const s = withKnot().give({ type: 'pause' }).wait(1).press('slip');
    expect([s.ties, s.state.phase]).toEqual(['', 'paused']);
  });

  it('starts again with a breath, without waiting for lines of a beat that is gone', () => {
    const s = withKnot().intoPass().give({ type: 'pause' });
    const paused = s.now;
    s.wait(0.2).begin();
    expect(s.on!.order.startAt - paused).toBeGreaterThanOrEqual(LEAST_GAP);
    s.give({ type: 'pause' }).wait(60).begin();
    expect(s.on!.order.startAt - s.now).toBeCloseTo(4.15);
  });
});

describe('cold', () => {
  it('plays one cold pass after ten minutes; clean pulls the kept knots tight', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin().cleanPass(2).give({ type: 'pause' });
    s.away += 12 * 60;
    s.begin();
    expect([s.ties, s.on!.order.kind, s.state.queue[1]!.order.kind]).toEqual(['LL', 'cold', 'drill']);
    s.overPass().wait(0.5).press('clean');
    expect(s.passes.at(-1)!.kind).toBe('cold');
    expect(s.ties).toBe('TTT');
    expect(s.on!.order.kind).toBe('drill');
  });

  it('lets them run out at a slip, and leaves them loose without an answer', () => {
    const cooled = () => {
      const s = new Sitting({ numbers: { streak: 10 } }).begin().cleanPass(2).give({ type: 'pause' });
      s.away += 12 * 60;
      return s.begin();
    };
    expect(cooled().intoPass().press('slip').ties).toBe('');
    expect(cooled().overPass().wait(1).press('slip').ties).toBe('');
    expect(cooled().overPass().ties).toBe('LLL');
  });
});

describe('a trial', () => {
  it('is one pass that does not count, slip or clean', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin().cleanPass(2).give({ type: 'trial' });
    expect(s.on!.order.kind).toBe('trial');
    s.intoPass().press('slip');
    expect(s.passes.at(-1)).toMatchObject({ kind: 'trial', verdict: 'slip' });
    expect([s.ties, s.on!.order.kind]).toEqual(['TT', 'drill']);
  });

  it('can be taken back before it begins', () => {
    const s = new Sitting().begin().give({ type: 'trial' }).give({ type: 'trial' });
    expect(s.on!.order.kind).toBe('drill');
  });

  it('leaves the Nth place free: no pass too many is on the clock', () => {
    const s = new Sitting({ numbers: { streak: 2 } }).begin().overPass();
    s.give({ type: 'trial' });
    expect(s.state.queue.map((laid) => laid.order.kind)).toEqual(['trial', 'drill']);
    s.give({ type: 'trial' });
    expect(s.state.queue.map((laid) => laid.order.kind)).toEqual(['drill']);
  });
});

describe('moving by hand', () => {
  it('undoes the last verdict, again and again', () => {
    const s = new Sitting({ numbers: { streak: 10 } }).begin().cleanPass(2).wait(0.5).press('slip');
    expect(s.ties).toBe('');
    s.give({ type: 'undo' });
    expect(s.ties).toBe('TT');
    s.give({ type: 'undo' });
    expect(s.ties).toBe('TL');
  });

  it('takes a step back with the press that finished it, and plays it again', () => {
    const s = new Sitting().begin().overPass(3).wait(1).press('clean');
    expect(s.on!.order).toMatchObject({ from: 1, to: 1 });
    s.give({ type: 'undo' });
    expect([s.span, s.state.phase, s.ties]).toEqual(['0-0@60', 'waiting', 'LLL']);
    expect(s.state.queue).toEqual([]);
  });

  it('skips, goes back and changes the tempo, each logged, the pass that is on broken off', () => {
    const s = new Sitting({ beats: [4, 4, 4] }).begin().cleanPass().intoPass().give({ type: 'skip' });
    expect(s.events.slice(-2).map((event) => event.type)).toEqual(['pass', 'step']);
    expect([s.span, s.on!.order.from]).toEqual(['1-1@60', 1]);
    s.give({ type: 'back' });
    expect([s.span, s.ties]).toEqual(['0-0@60', 'T-']);
    s.give({ type: 'tempo', bpm: 73 });
    expect([s.span, s.on!.order.bpm]).toEqual(['0-0@73', 73]);
    s.give({ type: 'tempo', bpm: 1000 });
    expect(s.span).toBe('0-0@400');
  });

  it('moves while paused without starting', () => {
    const s = new Sitting().give({ type: 'skip' });
    expect([s.span, s.state.phase]).toEqual(['1-1@60', 'idle']);
  });
});

describe('up the ladder', () => {
  it('goes from bar to bar, joined, to the next tempo and to the goal', () => {
    const s = new Sitting({ numbers: { streak: 1, joinStreak: 1, start: 60, goal: 70 } }).begin();
    const seen: string[] = [];
    for (let i = 0; i < 6; i++) {
      seen.push(s.span);
      s.cleanPass();
      seen.push(s.state.sign ?? '-');
    }
    const rung = (bpm: number, end: string) => [
      `0-0@${bpm}`,
      'step',
      `1-1@${bpm}`,
      'step',
      `0-1@${bpm}`,
      end,
    ];
    expect(seen).toEqual([...rung(60, 'rung'), ...rung(70, 'goal')]);
    expect([s.state.phase, s.state.chart.finished, s.state.queue.length]).toEqual(['finished', true, 0]);
  });

  it('counts the gap to a new tempo in bars of the new tempo', () => {
    const s = new Sitting({ beats: [4], numbers: { streak: 1, start: 60, goal: 70 } }).begin().cleanPass();
    const { gapAt, startAt, bpm } = s.on!.order;
    expect(bpm).toBe(70);
    const bars = ((startAt - gapAt) * 70) / 240;
    expect(bars).toBeCloseTo(Math.round(bars), 9);
  });
});

describe('the wall', () => {
  const atWall = (beats = [4, 4]) => {
    const s = new Sitting({ beats, numbers: { streak: 10 }, settings: { ...rolling } }).begin();
    for (let i = 0; i < 30; i++) s.intoPass().press('slip');
    return s;
  };

  it('stops after thirty passes on an unfinished step, and offers what helps', () => {
    const s = atWall();
    expect(s.passes).toHaveLength(30);
    expect(s.state.phase).toBe('wall');
    expect(s.state.wall).toEqual({ breaksAt: 0, slower: 50, half: null, leaveOpen: true });
    s.wait(60);
    expect(s.state.queue).toEqual([]);
  });

  it('stops 8 minutes after N clean passes would have been done', () => {
    // 10 passes of 8 bars at 60 with one bar of gap: 6 minutes; the wall stands at 14.
    const s = new Sitting({ beats: [32], numbers: { streak: 10 } }).begin();
    while (s.state.phase !== 'wall') s.to(s.on!.order.startAt + 31).press('slip');
    expect(s.state.chart.tally.minutes).toBeGreaterThanOrEqual(10 * (64 / 60) + 8);
    expect(s.passes.length).toBeLessThan(30);
  });

  it('goes slower, takes half, leaves open or goes on, as the player says', () => {
    const slower = atWall().give({ type: 'choose', choice: 'slower' });
    expect([slower.span, slower.state.phase]).toEqual(['0-0@50', 'count-in']);
    const open = atWall().give({ type: 'choose', choice: 'leave-open' });
    expect([open.span, open.state.phase]).toEqual(['1-1@60', 'count-in']);
    expect(open.state.chart.open).toEqual([{ from: 0, to: 0 }]);
    const on = atWall().give({ type: 'choose', choice: 'go-on' });
    expect([on.span, on.state.phase]).toEqual(['0-0@60', 'count-in']);
    for (let i = 0; i < 29; i++) on.intoPass().press('slip');
    expect(on.state.phase).toBe('count-in');
    expect(on.intoPass().press('slip').state.phase).toBe('wall');
  });

  it('offers the half that breaks', () => {
    const s = new Sitting({ beats: [4, 4], numbers: { streak: 2 } }).begin().cleanPass(4);
    expect(s.span).toBe('0-1@60');
    for (let i = 0; i < 30; i++) s.to(s.on!.order.startAt + 6).press('slip');
    expect(s.state.wall).toMatchObject({ breaksAt: 1, half: { from: 1, to: 1 } });
    s.give({ type: 'choose', choice: 'half' });
    expect(s.span).toBe('1-1@60');
  });
});

describe('rest', () => {
  it.each([
    [false, 30],
    [true, 20],
  ])('comes after so many sounding minutes (first week: %s, %i) and until asked', (firstWeek, minutes) => {
    const s = new Sitting({ beats: [60], numbers: { streak: 100, joinStreak: 100 }, firstWeek }).begin();
    let passes = 0;
    while (s.state.phase !== 'rest' && passes < 100) {
      s.cleanPass();
      passes++;
    }
    expect(s.state.phase).toBe('rest');
    // A pass of 60 beats and its count-in bar of 60: two minutes.
    expect(passes).toBe(minutes / 2);
    s.wait(600);
    expect(s.state.queue).toEqual([]);
    s.begin();
    expect(s.state.phase).toBe('count-in');
  });
});
