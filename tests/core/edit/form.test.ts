import { describe, expect, test } from 'vitest';
import { edit } from '../../../src/core/chart/edit.ts';
import { routeOf } from '../../../src/core/chart/index.ts';
import type { Marks } from '../../../src/core/chart/types.ts';
import { apply, barOf, counter, frozen, twoLines } from './charts.ts';

const say = (bar: string, change: object) => ({ type: 'set-bars', bars: [bar], change }) as const;
const form = (change: object) => ({ type: 'set-form', change }) as const;

describe('signs of the form', () => {
  test('are said and taken back, and bring the marks to the version that can hold them', () => {
    const marks = apply(twoLines(), [say('d', { jump: 'dc-al-fine' }), say('b', { fine: true })]);
    expect(marks.version).toBe(2);
    expect(routeOf(marks)).toEqual(['a', 'b', 'c', 'd', 'a', 'b']);
    const back = apply(marks, [say('d', { jump: null }), say('b', { fine: false })]);
    expect(back).toEqual(twoLines());
  });
  test('of its beginning stay on the left half of a bar that is split, of its end on the right one', () => {
    const all = {
      segno: true,
      coda: true,
      section: 'A',
      when: 'never',
      toCoda: true,
      fine: true,
      jump: 'ds',
    } as const;
    const marks = apply(twoLines(), [say('b', all), { type: 'add-line', bar: 'b', x: null }], counter());
    expect(barOf(marks, 'n1')).toMatchObject({ segno: true, coda: true, section: 'A', when: 'never' });
    expect(barOf(marks, 'n1')).not.toHaveProperty('jump');
    expect(barOf(marks, 'n2')).toMatchObject({ toCoda: true, fine: true, jump: 'ds' });
    expect(barOf(marks, 'n2')).not.toHaveProperty('segno');
  });
});

describe('the form as a whole', () => {
  test('choruses: once is nothing to say', () => {
    const twice = apply(twoLines(), [form({ choruses: 2 })]);
    expect(twice).toMatchObject({ version: 2, choruses: 2 });
    expect(apply(twice, [form({ choruses: 1 })])).toEqual(twoLines());
  });
  test('conventions: only what is switched is kept', () => {
    const one = apply(twoLines(), [form({ conventions: { repeatsAfterJump: true } })]);
    const two = apply(one, [form({ conventions: { endingAfterJump: 'first' } })]);
    expect(two.conventions).toEqual({ repeatsAfterJump: true, endingAfterJump: 'first' });
    const back = apply(two, [form({ conventions: { repeatsAfterJump: false, endingAfterJump: 'last' } })]);
    expect(back).toEqual(twoLines());
  });
  test('the same said again changes nothing', () => {
    const marks = apply(twoLines(), [form({ choruses: 2 })]);
    expect(edit(marks, form({ choruses: 2 }), counter())).toBe(marks);
  });
});

describe('an order by hand', () => {
  const order = (from: string, to: string) => ({ from, to });
  const byHand = (marks: Marks) => marks.byHand?.map(({ from, to }) => `${from}–${to}`);
  const start = frozen(
    apply(twoLines(), [form({ byHand: [order('c', 'd'), order('a', 'c'), order('e', 'h')] })]),
  );

  test('is kept, and given up', () => {
    expect(routeOf(start)).toEqual(['c', 'd', 'a', 'b', 'c', 'e', 'f', 'g', 'h']);
    expect(apply(start, [form({ byHand: null })])).toEqual(twoLines());
  });
  test('goes with bars that are split', () => {
    const marks = apply(start, [{ type: 'add-line', bar: 'c', x: null }], counter());
    expect(byHand(marks)).toEqual(['n1–d', 'a–n2', 'e–h']);
  });
  test('goes with bars that are joined', () => {
    const marks = apply(start, [{ type: 'remove-line', system: 's1', line: 3 }], counter());
    expect(byHand(marks)).toEqual(['n1–n1', 'a–n1', 'e–h']);
  });
  test('loses what is taken off the page', () => {
    const marks = apply(start, [{ type: 'remove-system', system: 's1' }]);
    expect(byHand(marks)).toEqual(['e–h']);
    const none = apply(marks, [{ type: 'remove-system', system: 's2' }]);
    expect(none).toMatchObject({ version: 1, systems: [] });
    expect(none).not.toHaveProperty('byHand');
  });
});
