import { describe, expect, test } from 'vitest';
import { NotReadable, defaultNumbers, parseMarks, parsePlan, planOf } from '../../../src/core/chart/index.ts';
import { aaba, marksOf } from './marks-of.ts';

/** A deep copy as JSON with one change made to it. */
function changed(value: unknown, change: (copy: any) => void): unknown {
  const copy = JSON.parse(JSON.stringify(value));
  change(copy);
  return copy;
}

describe('marks from outside', () => {
  test('come back as they were', () => {
    expect(parseMarks(JSON.parse(JSON.stringify(aaba())))).toEqual(aaba());
  });
  const wrong: [name: string, change: (marks: any) => void][] = [
    ['another version', (m) => (m.version = 3)],
    ['an attribute that this release does not know', (m) => (m.systems[0].bars[0].leap = 'dc')],
    ['a box outside the page', (m) => (m.systems[0].bars[0].x0 = -0.1)],
    ['a bar without width', (m) => (m.systems[0].bars[0].x1 = m.systems[0].bars[0].x0)],
    ['a system without height', (m) => (m.systems[0].bottom = m.systems[0].top)],
    ['bars that overlap', (m) => (m.systems[0].bars[0].x1 = 0.35)],
    ['the same bar twice', (m) => (m.systems[0].bars[0].id = 'b2')],
    ['no number at all', (m) => (m.systems[0].top = null)],
  ];
  test.each(wrong)('with %s are refused in one line', (_, change) => {
    const read = () => parseMarks(changed(marksOf([{}, {}]), change));
    expect(read).toThrow(NotReadable);
    expect(read).toThrow(/^marks[^\n]*$/);
  });
});

describe('a plan from outside', () => {
  const plan = planOf(aaba(), defaultNumbers);
  const wrong: [name: string, change: (plan: any) => void][] = [
    ['a twin that comes later', (p) => (p.bars[0].twin = 3)],
    ['a twin that is itself a twin of another', (p) => (p.bars[30].twin = 9)],
    ['sections with a hole', (p) => (p.sections[1].from = 9)],
    ['a bar in the wrong section', (p) => (p.bars[9].section = 0)],
    ['sections that end early', (p) => p.sections.pop()],
    ['a streak of none', (p) => (p.numbers.streak = 0)],
    ['a tempo step of none', (p) => (p.numbers.step = 0)],
  ];
  test.each(wrong)('with %s is refused', (_, change) => {
    expect(() => parsePlan(changed(plan, change))).toThrow(NotReadable);
  });
});
