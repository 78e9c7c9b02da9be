import { expect, test } from 'vitest';
import { problemsOf, type ProblemKind } from '../../../src/core/chart/problems.ts';
import type { Bar, Marks } from '../../../src/core/chart/types.ts';
import { twoLines } from './charts.ts';

function withBars(change: Partial<Record<string, Partial<Bar>>>): Marks {
  const marks = twoLines();
  return {
    ...marks,
    systems: marks.systems.map((system) => ({
      ...system,
      bars: system.bars.map((bar) => ({ ...bar, ...change[bar.id] })),
    })),
  };
}
const withSystem = (change: object): Marks => {
  const marks = twoLines();
  return {
    ...marks,
    systems: marks.systems.map((system, i) => (i === 1 ? { ...system, ...change } : system)),
  };
};

test('marks in order have no problems', () => expect(problemsOf(twoLines(), 1)).toEqual([]));

const cases: readonly [name: string, marks: Marks, kind: ProblemKind, where: string][] = [
  ['a page that the document lacks', withSystem({ page: 1 }), 'page-missing', 's2'],
  ['a system below the page', withSystem({ bottom: 1.2 }), 'outside-page', 's2'],
  ['a place that is no number', withSystem({ bottom: NaN }), 'outside-page', 's2'],
  ['a system upside down', withSystem({ top: 0.9, bottom: 0.8 }), 'too-small', 's2'],
  ['a system without bars', withSystem({ bars: [] }), 'no-bars', 's2'],
  ['two systems on one place', withSystem({ top: 0.12 }), 'systems-overlap', 's2'],
  ['a bar over the one before', withBars({ b: { x0: 0.2 } }), 'bars-overlap', 'b'],
  ['a bar without width', withBars({ h: { x1: 0.7 } }), 'too-small', 'h'],
  ['an id given twice', withBars({ h: { id: 'a' } }), 'same-id', 'a'],
  ['a broken bar inside a line', withBars({ f: { continues: true } }), 'broken-bar-alone', 'f'],
  ['a broken bar without its first part', withBars({ a: { continues: true } }), 'broken-bar-alone', 'a'],
  ['a twin that is not there', withBars({ c: { as: 'z' } }), 'twin-missing', 'c'],
  ['a repeat that is begun and not ended', withBars({ c: { repeatStart: true } }), 'repeat-never-ends', 'c'],
  [
    'a repeat begun inside another',
    withBars({ a: { repeatStart: true }, c: { repeatStart: true }, d: { repeatEnd: 2 } }),
    'repeat-never-ends',
    'a',
  ],
  ['a second ending without a first', withBars({ d: { ending: [2] } }), 'ending-missing', 'd'],
];
test.each(cases)('found: %s', (_, marks, kind, where) => {
  const found = problemsOf(marks, 1).filter((problem) => problem.kind === kind);
  expect(found.map((problem) => problem.bar ?? problem.system)).toEqual([where]);
});

test('twins in a circle are found, not followed for ever', () => {
  const found = problemsOf(withBars({ b: { as: 'c' }, c: { as: 'b' } }), 1);
  expect(found.some(({ kind }) => kind === 'twin-missing')).toBe(true);
});

test('a repeat to the beginning, and one with both endings, are in order', () => {
  expect(problemsOf(withBars({ d: { repeatEnd: 2 } }), 1)).toEqual([]);
  const endings = { a: { repeatStart: true }, d: { ending: [1], repeatEnd: 2 }, e: { ending: [2] } } as const;
  expect(problemsOf(withBars(endings), 1)).toEqual([]);
});
