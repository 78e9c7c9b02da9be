import { describe, expect, test } from 'vitest';
import { defaultNumbers, planOf } from '../../../src/core/chart/index.ts';
import type { Marks } from '../../../src/core/chart/index.ts';
import { sameMusic } from '../../../src/core/ladder/index.ts';
import { marksOf, plainBars } from '../chart/marks-of.ts';

const plan = (marks: Marks) => planOf(marks, defaultNumbers);
const eight = marksOf(plainBars(8));
const old = plan(eight);
const span = (from: number, to = from) => ({ from, to });

/** The same page boxed anew by somebody else: other ids, lines a little off. */
function boxedAnew(marks: Marks): Marks {
  return {
    ...marks,
    systems: marks.systems.map((system) => ({
      ...system,
      bars: system.bars.map((bar) => ({
        ...bar,
        id: `new-${bar.id}`,
        x0: bar.x0 + 0.004,
        x1: bar.x1 + 0.004,
      })),
    })),
  };
}

/** Bars b2 and b3 as one, or b2 as two. */
function redrawn(how: 'joined' | 'split'): Marks {
  const [first, second] = eight.systems;
  const [b1, b2, b3, b4] = first!.bars;
  const bars =
    how === 'joined'
      ? [b1!, { ...b2!, id: 'j', x1: b3!.x1, was: ['b2', 'b3'] }, b4!]
      : [b1!, { ...b2!, id: 'l', x1: 0.4, was: ['b2'] }, { ...b2!, id: 'r', x0: 0.4, was: ['b2'] }, b3!, b4!];
  return { ...eight, systems: [{ ...first!, bars }, second!] };
}

describe('what was passed under an older plan', () => {
  test('counts for the same bars, in the same order and number', () => {
    expect(sameMusic(old, span(2, 4), old, span(2, 4))).toBe(true);
    expect(sameMusic(old, span(2, 4), old, span(2, 5))).toBe(false);
    expect(sameMusic(old, span(2, 4), old, span(2, 3))).toBe(false);
    expect(sameMusic(old, span(2), old, span(3))).toBe(false);
  });
  test('counts at another place of a changed route', () => {
    const later = plan(marksOf(plainBars(8, { 3: { repeatEnd: 2 } })));
    expect(sameMusic(old, span(4, 7), later, span(8, 11))).toBe(true);
    expect(sameMusic(old, span(4, 7), later, span(4, 7))).toBe(false);
    expect(sameMusic(old, span(0, 3), later, span(4, 7))).toBe(true);
  });
  test('counts for twins, whether they are marked now or were then', () => {
    const marked = plan(marksOf(plainBars(8, { 4: { as: 'b1' }, 5: { as: 'b2' } })));
    expect(sameMusic(old, span(0, 1), marked, span(4, 5))).toBe(true);
    expect(sameMusic(marked, span(4, 5), old, span(0, 1))).toBe(true);
    expect(sameMusic(old, span(0, 2), marked, span(4, 6))).toBe(false);
  });
  test('counts for bars boxed at the same place on another machine', () => {
    expect(sameMusic(old, span(1, 5), plan(boxedAnew(eight)), span(1, 5))).toBe(true);
    expect(sameMusic(old, span(1, 5), plan(boxedAnew(eight)), span(2, 6))).toBe(false);
  });
  test('counts for the parts of a bar that has been split', () => {
    const split = plan(redrawn('split'));
    expect(sameMusic(old, span(1), split, span(1))).toBe(true);
    expect(sameMusic(old, span(1), split, span(2))).toBe(true);
    expect(sameMusic(old, span(0, 3), split, span(0, 4))).toBe(true);
    expect(sameMusic(old, span(0, 2), split, span(0, 4))).toBe(false);
  });
  test('does not count for a bar joined from parts', () => {
    const joined = plan(redrawn('joined'));
    expect(sameMusic(old, span(1), joined, span(1))).toBe(false);
    expect(sameMusic(old, span(1, 2), joined, span(1))).toBe(false);
    expect(sameMusic(old, span(0, 3), joined, span(0, 2))).toBe(false);
  });
  test('counts for a seam that runs on into the beginning', () => {
    expect(sameMusic(old, span(6, 9), plan(boxedAnew(eight)), span(6, 9))).toBe(true);
  });
});
