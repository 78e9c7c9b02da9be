import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gapBarsOf, LEAST_GAP, timelineOf } from '../../../src/core/beat/timeline.ts';

const bars = (...beats: number[]) => beats.map((b) => ({ beats: b }));
const ats = (clicks: readonly { at: number }[]) => clicks.map((click) => click.at);

describe('the timeline of a pass', () => {
  // 60/bpm seconds a beat is the definition of beats a minute; everything below is worked out by hand.
  it('counts four beats in and clicks two bars of four at 120', () => {
    const line = timelineOf({ bpm: 120, bars: bars(4, 4), countIn: { bars: 1 } });
    expect(ats(line.clicks)).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5]);
    expect(line.clicks.filter((c) => c.accent).map((c) => c.at)).toEqual([0, 2, 4]);
    expect(line.clicks.filter((c) => c.countIn)).toHaveLength(4);
    expect(line).toMatchObject({ start: 2, end: 6 });
    expect(line.bars).toEqual([
      { from: 2, to: 4, beats: 4 },
      { from: 4, to: 6, beats: 4 },
    ]);
  });

  it.each([
    ['3/4', bars(3), [0, 1, 2]],
    ['6/8 in dotted quarters', bars(2), [0, 1]],
    ['5/4', bars(5), [0, 1, 2, 3, 4]],
    ['7/8 in quarters: the last beat is half as long', bars(3.5, 3.5), [0, 1, 2, 3, 3.5, 4.5, 5.5, 6.5]],
    ['changing meters', bars(4, 3, 2), [0, 1, 2, 3, 4, 5, 6, 7, 8]],
  ])('clicks %s', (_, span, wanted) => {
    expect(ats(timelineOf({ bpm: 60, bars: span, countIn: { beats: 0 } }).clicks)).toEqual(wanted);
  });

  it('keeps the eighth as long when 6/8 comes after 4/4', () => {
    const span = [{ beats: 4 }, { beats: 2, scale: 1.5 }, { beats: 4 }];
    const line = timelineOf({ bpm: 60, bars: span, countIn: { beats: 0 } });
    expect(ats(line.clicks)).toEqual([0, 1, 2, 3, 4, 5.5, 7, 8, 9, 10]);
  });

  it.each([
    ['one bar', { bars: 1 }, [-1, -1, -1, -1], [0, 1, 2, 3], 4],
    ['two bars', { bars: 2 }, [-2, -2, -2, -2, -1, -1, -1, -1], [0, 1, 2, 3, 0, 1, 2, 3], 8],
    ['the last two beats of one', { beats: 2 }, [-1, -1], [2, 3], 2],
    ['six beats, more than a bar', { beats: 6 }, [-2, -2, -1, -1, -1, -1], [2, 3, 0, 1, 2, 3], 6],
    ['bars as given', [3, 4], [-2, -2, -2, -1, -1, -1, -1], [0, 1, 2, 0, 1, 2, 3], 7],
  ])('counts in %s', (_, countIn, inBars, inBeats, start) => {
    const line = timelineOf({ bpm: 60, bars: bars(4), countIn });
    const counted = line.clicks.filter((c) => c.countIn);
    expect(counted.map((c) => c.bar)).toEqual(inBars);
    expect(counted.map((c) => c.beat)).toEqual(inBeats);
    expect(counted[0]!.at).toBe(0);
    expect(line.start).toBe(start);
  });

  it('counts the last two beats of a bar of three and a half', () => {
    const line = timelineOf({ bpm: 60, bars: bars(3.5), countIn: { beats: 2 } });
    expect(ats(line.clicks).slice(0, 3)).toEqual([0, 1, 1.5]);
  });

  it('goes in half notes where a bar divides into them, and never moves a bar line', () => {
    const options = { bpm: 180, bars: bars(4, 3, 4), countIn: { bars: 1 } };
    const whole = timelineOf(options);
    const halves = timelineOf({ ...options, halves: true });
    expect(halves.clicks.map((c) => c.beat)).toEqual([0, 2, 0, 2, 0, 1, 2, 0, 2]);
    expect(halves.bars).toEqual(whole.bars);
    expect(halves.clicks.every((c) => whole.clicks.some((w) => w.at === c.at))).toBe(true);
    const one = timelineOf({ ...options, countIn: { beats: 1 }, halves: true });
    expect(one.clicks[0]).toMatchObject({ countIn: true, beat: 2 });
  });

  it('adds nothing up: the last click of 2,000 bars is where its index says, to the last bit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 400 }), fc.constantFrom(2, 3, 3.5, 4, 5), (bpm, beats) => {
        const line = timelineOf({ bpm, bars: Array(2000).fill({ beats }), countIn: { bars: 1 } });
        const last = line.clicks[line.clicks.length - 1]!;
        expect(last.at).toBe(((2000 * beats + last.beat) * 60) / bpm);
        expect(line.end).toBe((2001 * beats * 60) / bpm);
      }),
    );
  });

  it('refuses what cannot be played', () => {
    for (const bpm of [0, -60, NaN, Infinity])
      expect(() => timelineOf({ bpm, bars: bars(4), countIn: { bars: 1 } })).toThrow(RangeError);
    expect(() => timelineOf({ bpm: 60, bars: [], countIn: { bars: 1 } })).toThrow(RangeError);
    expect(() => timelineOf({ bpm: 60, bars: bars(4, 0), countIn: { bars: 1 } })).toThrow(RangeError);
  });
});

describe('the gap between passes', () => {
  const plain = { beats: 4, gap: 1, passBeats: 4, countInBeats: 4 } as const;
  it.each([
    ['one bar at 60 lasts 4 s', { ...plain, bpm: 60 }, 1],
    ['one bar at 80 lasts exactly 3 s', { ...plain, bpm: 80 }, 1],
    ['one bar at 81 would be under 3 s', { ...plain, bpm: 81 }, 2],
    ['at 240 three seconds are three bars', { ...plain, bpm: 240 }, 3],
    ['as many bars as were asked for', { ...plain, bpm: 60, gap: 4 }, 4],
    ['as long as the pass was', { ...plain, bpm: 60, gap: 'as-long', passBeats: 12 }, 3],
    ['as long as the pass was, in whole bars', { ...plain, bpm: 60, gap: 'as-long', passBeats: 9 }, 3],
    ['never shorter than the count-in', { ...plain, bpm: 60, countInBeats: 8 }, 2],
  ] as const)('%s', (_, options, wanted) => {
    expect(gapBarsOf(options)).toBe(wanted);
  });

  it('is never under three seconds and never a bar more than it needs', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 400 }), fc.constantFrom(2, 3, 3.5, 4, 5, 7), (bpm, beats) => {
        const n = gapBarsOf({ bpm, beats, gap: 1, passBeats: 4, countInBeats: 1 });
        expect((n * beats * 60) / bpm).toBeGreaterThanOrEqual(LEAST_GAP - 1e-6);
        if (n > 1) expect(((n - 1) * beats * 60) / bpm).toBeLessThan(LEAST_GAP);
      }),
    );
  });
});
