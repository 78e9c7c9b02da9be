import { expect, test } from 'vitest';
import { rootOf, sectionsOf } from '../../../src/core/chart/edit-twins.ts';
import { apply, barOf, frozen, twoLines } from './charts.ts';

const named = (starts: Record<string, string>) =>
  apply(
    frozen(twoLines()),
    Object.entries(starts).map(
      ([bar, section]) => ({ type: 'set-bars', bars: [bar], change: { section } }) as const,
    ),
  );
const classes = (marks: ReturnType<typeof twoLines>) =>
  Array.from('abcdefgh', (bar) => rootOf(marks, bar)).join('');

test('the second A is as the first, bar by bar', () => {
  const marks = apply(named({ a: 'A', e: 'A' }), [{ type: 'as-section', section: 'e', like: 'a' }]);
  expect(classes(marks)).toBe('abcdabcd');
});

test('said the other way round it is still the later that is as the first', () => {
  const marks = apply(named({ a: 'A', e: 'A' }), [{ type: 'as-section', section: 'a', like: 'e' }]);
  expect(classes(marks)).toBe('abcdabcd');
  expect(barOf(marks, 'a')).not.toHaveProperty('as');
});

test('sections of different lengths are refused, with both lengths', () => {
  expect(() => apply(named({ a: 'A', f: 'A' }), [{ type: 'as-section', section: 'f', like: 'a' }])).toThrow(
    expect.objectContaining({ reason: 'different-lengths', counts: [3, 5] }),
  );
});

test('pickups and second parts of broken bars do not count in a section', () => {
  const marks = apply(named({ a: 'A', f: 'A' }), [
    { type: 'set-bars', bars: ['a'], change: { pickup: 1 } },
    { type: 'set-bars', bars: ['e'], change: { continues: true } },
    { type: 'as-section', section: 'f', like: 'a' },
  ]);
  expect(classes(marks)).toBe('abcdebcd');
});

test('bars before the first name are a section of their own', () => {
  expect(sectionsOf(named({ c: 'B' }))).toEqual([
    { name: '', start: 'a', bars: ['a', 'b'] },
    { name: 'B', start: 'c', bars: ['c', 'd', 'e', 'f', 'g', 'h'] },
  ]);
});

test('a range of bars is as those from another bar on', () => {
  expect(classes(apply(twoLines(), [{ type: 'as', bars: ['f', 'g', 'h'], from: 'b' }]))).toBe('abcdebcd');
});

test('twins are transitive; a bar that is said to be as another one leaves its own class alone', () => {
  const all = apply(twoLines(), [
    { type: 'as', bars: ['e'], from: 'c' },
    { type: 'as', bars: ['c'], from: 'a' },
    { type: 'as', bars: ['g'], from: 'e' },
  ]);
  expect(classes(all)).toBe('abadafah');
  expect(classes(apply(all, [{ type: 'as', bars: ['e'], from: 'b' }]))).toBe('abadbfah');
  expect(classes(apply(all, [{ type: 'apart', bars: ['a'] }]))).toBe('abcdcfch');
});

test('splitting the first of a class makes the next one the first', () => {
  const marks = apply(twoLines(), [
    { type: 'as', bars: ['e'], from: 'a' },
    { type: 'as', bars: ['h'], from: 'a' },
    { type: 'add-line', bar: 'a', x: null },
  ]);
  expect(barOf(marks, 'e')).not.toHaveProperty('as');
  expect(barOf(marks, 'h')).toMatchObject({ as: 'e' });
});
