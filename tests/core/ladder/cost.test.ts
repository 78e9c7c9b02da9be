import { describe, expect, test } from 'vitest';
import { defaultNumbers, planOf } from '../../../src/core/chart/index.ts';
import type { Numbers, Plan } from '../../../src/core/chart/index.ts';
import {
  cheaper,
  costOf,
  expectedPasses,
  gapSeconds,
  ladderCost,
  rungsOf,
  secondsOf,
  stepsOf,
} from '../../../src/core/ladder/index.ts';
import { aaba, marksOf, plainBars } from '../chart/marks-of.ts';

const oneBar = { gap: 1 };

function form(numbers: Partial<Numbers>): Plan {
  return planOf(aaba(), { ...defaultNumbers, ...numbers });
}
function minutes(plan: Plan): number {
  return costOf(stepsOf(plan), plan, 60, oneBar).minutes;
}

describe('what a rung costs', () => {
  // The design's figures for 32 bars A A B A at 60, one bar of count-in.
  test.each<[name: string, numbers: Partial<Numbers>, hours: number, minutes: number]>([
    ['sections of eight', {}, 2, 7],
    ['sections of four, one after another', { sectionLength: 4 }, 2, 31],
    ['sections of four in pairs', { sectionLength: 4, joining: 'pairs' }, 1, 50],
    ['sections of eight, joins three in a row', { joinStreak: 3 }, 1, 32],
    ['sections of four, joins three in a row', { sectionLength: 4, joinStreak: 3 }, 1, 23],
    [
      'sections of four in pairs, joins three in a row',
      { sectionLength: 4, joining: 'pairs', joinStreak: 3 },
      1,
      10,
    ],
  ])('%s', (_, numbers, hours, rest) => {
    expect(Math.round(minutes(form(numbers)))).toBe(hours * 60 + rest);
  });

  test('eight bars by hand: (8·2 + 3+4+5+6+7+8+9) bars of 4 s, ten times', () => {
    const plan = planOf(marksOf(plainBars(8)), defaultNumbers);
    const cost = costOf(stepsOf(plan), plan, 60, oneBar);
    expect(cost).toMatchObject({ steps: 15, cleanPasses: 150 });
    expect(cost.minutes).toBeCloseTo((58 * 4 * 10) / 60, 9);
  });

  test('the whole ladder is the sum of its rungs', () => {
    const plan = planOf(marksOf(plainBars(8)), defaultNumbers);
    const atSixty = (58 * 4 * 10) / 60;
    const total = ladderCost(plan, oneBar);
    expect(total).toMatchObject({ steps: 105, cleanPasses: 1050 });
    const slower = [60, 70, 80, 90, 100, 110, 120].reduce((sum, bpm) => sum + (atSixty * 60) / bpm, 0);
    expect(total.minutes).toBeCloseTo(slower, 9);
  });
});

describe('seconds', () => {
  const changing = planOf(
    marksOf([{}, { meter: { beats: 6, value: 8 } }, { meter: { beats: 3, value: 4 } }]),
    defaultNumbers,
  );
  test('the tempo counts the first unit; note values keep their length', () => {
    // 4/4 is four quarters, 6/8 three, 3/4 three: ten seconds at quarter = 60.
    expect(secondsOf(changing, { from: 0, to: 2 }, 60)).toBeCloseTo(10, 12);
  });
  test('a span that runs on past the end goes on at the beginning', () => {
    expect(secondsOf(changing, { from: 2, to: 3 }, 60)).toBeCloseTo(3 + 4, 12);
  });
  test.each<[string, Parameters<typeof gapSeconds>[3], number, number]>([
    ['whole bars', { gap: 2 }, 60, 8],
    ['never under the floor, in whole bars', { gap: 1, floor: 3 }, 120, 4],
    ['a bar that just reaches the floor is enough', { gap: 1, floor: 3 }, 80, 3],
    ['as long as the pass, in whole bars', { gap: 'as-long' }, 60, 12],
    ['never shorter than its count-in', { gap: 1, countIn: { bars: 2 } }, 60, 8],
    ['a count-in of some beats is part of one bar', { gap: 1, countIn: { beats: 3 } }, 60, 4],
  ])('the gap: %s', (_, gaps, bpm, seconds) => {
    expect(gapSeconds(changing, { from: 0, to: 2 }, bpm, gaps)).toBeCloseTo(seconds, 9);
  });
});

describe('rungs', () => {
  const numbers = { start: 60, step: 10, goal: 120, doubleStepAbove: null, repeatedRungs: [] };
  test.each<[string, Partial<typeof numbers> | Partial<Numbers>, number[]]>([
    ['60 to 120 by 10', {}, [60, 70, 80, 90, 100, 110, 120]],
    ['the last is always the goal', { step: 25 }, [60, 85, 110, 120]],
    ['start is the goal', { start: 120 }, [120]],
    ['start above the goal', { start: 130 }, [120]],
    [
      'doubled steps from 120',
      { start: 100, goal: 170, doubleStepAbove: 120 },
      [100, 110, 120, 140, 160, 170],
    ],
    ['a rung repeated', { goal: 80, repeatedRungs: [70, 80] }, [60, 70, 70, 80, 80]],
  ])('%s', (_, changes, rungs) => {
    expect(rungsOf({ ...numbers, ...changes })).toEqual(rungs);
  });
  test('a step that leads nowhere is refused', () => {
    expect(() => rungsOf({ ...numbers, step: 0 })).toThrow(RangeError);
  });
});

describe('what would be cheaper', () => {
  const ways = cheaper(form({}), 60, oneBar);
  const costs = new Map(ways.map((way) => [way.what.join(' + '), Math.round(way.cost.minutes)]));
  test('three in a row alone, and with sections of four in pairs, the cheapest last', () => {
    expect(costs.get('three-in-a-row')).toBe(92);
    expect(costs.get('sections-of-four + pairs')).toBe(110);
    expect([...costs].at(-1)).toEqual(['sections-of-four + pairs + three-in-a-row', 70]);
  });
  test('nothing that costs more is offered: sections of four one after another', () => {
    expect(costs.has('sections-of-four')).toBe(false);
    const now = minutes(form({}));
    for (const way of ways) expect(way.cost.minutes).toBeLessThan(now);
  });
  test('the numbers it gives cost what it says', () => {
    for (const way of ways) expect(minutes({ ...form({}), numbers: way.numbers })).toBe(way.cost.minutes);
  });
  test('nothing is offered when all has been taken', () => {
    expect(cheaper({ ...form({}), numbers: ways.at(-1)!.numbers }, 60, oneBar)).toEqual([]);
  });
});

describe('expected passes', () => {
  // W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, XIII.7.
  test('ten in a row over 32 bars at 99 % a bar takes 87 passes', () => {
    expect(Math.round(expectedPasses(0.99 ** 32, 10))).toBe(87);
  });
  test.each([
    [0.5, 2, 6],
    [0.5, 3, 14],
    [1, 10, 10],
    [0.9, 1, 1 / 0.9],
  ])('at %d, %i in a row: %d', (p, n, passes) => {
    expect(expectedPasses(p, n)).toBeCloseTo(passes, 9);
  });
  test('as the formula has it', () => {
    for (const p of [0.3, 0.72, 0.9, 0.999])
      for (const n of [3, 10]) expect(expectedPasses(p, n) / ((p ** -n - 1) / (1 - p))).toBeCloseTo(1, 9);
  });
  test('chances that are none are refused', () => {
    expect(() => expectedPasses(1.1, 3)).toThrow(RangeError);
    expect(() => expectedPasses(0.5, 0)).toThrow(RangeError);
    expect(expectedPasses(0, 3)).toBe(Infinity);
  });
});
