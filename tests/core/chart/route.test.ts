import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultNumbers, planOf, routeFrom, routeOf, type Bar } from '../../../src/core/chart/index.ts';
import { marksOf, plainBars } from './marks-of.ts';

const first = { ending: [1] };
const second = { ending: [2] };

/** The route as bar numbers. */
function played(...signs: Partial<Bar>[]): string {
  return routeOf(marksOf(signs))
    .map((id) => id.slice(1))
    .join(' ');
}

describe('the route after repeats and endings', () => {
  const cases: [name: string, signs: Partial<Bar>[], route: string][] = [
    ['no signs', [{}, {}, {}], '1 2 3'],
    ['a repeat from its start sign', [{}, { repeatStart: true }, { repeatEnd: 2 }, {}], '1 2 3 2 3 4'],
    ['a repeat without a start sign goes back to the beginning', [{}, { repeatEnd: 2 }, {}], '1 2 1 2 3'],
    ['or to the end of the repeat before', [{ repeatEnd: 2 }, {}, { repeatEnd: 2 }], '1 1 2 3 2 3'],
    ['a passage played four times', [{ repeatStart: true, repeatEnd: 4 }, {}], '1 1 1 1 2'],
    [
      'first and second ending',
      [{ repeatStart: true }, {}, { ...first, repeatEnd: 2 }, second, {}],
      '1 2 3 1 2 4 5',
    ],
    ['endings of two bars', [{}, first, { ...first, repeatEnd: 2 }, second, second, {}], '1 2 3 1 4 5 6'],
    [
      'three times with endings 1, 2 and 3',
      [{}, { ending: [1, 2], repeatEnd: 3 }, { ending: [3] }],
      '1 2 1 2 1 3',
    ],
    [
      'each its own ending',
      [{}, { ...first, repeatEnd: 3 }, { ...second, repeatEnd: 3 }, { ending: [3] }],
      '1 2 1 3 1 4',
    ],
    ['a first ending only', [{}, { ...first, repeatEnd: 2 }, {}], '1 2 1 3'],
    ['a first ending whose repeat sign was forgotten leads back', [{}, first, second], '1 2 1 3'],
    [
      'a second ending that has a repeat sign too ends',
      [{}, { ...first, repeatEnd: 2 }, { ...second, repeatEnd: 2 }, {}],
      '1 2 1 3 4',
    ],
    ['a repeat that never ends is played on', [{}, { repeatStart: true }, {}], '1 2 3'],
    [
      'repeats are not nested: the nearest start counts',
      [{ repeatStart: true }, { repeatStart: true }, { repeatEnd: 2 }, { repeatEnd: 2 }],
      '1 2 3 2 3 4 4',
    ],
    ['a pickup is not on the route', [{ pickup: 1 }, {}, { repeatEnd: 2 }], '2 3 2 3'],
    [
      'a repeat that starts at the pickup',
      [{}, { repeatEnd: 2 }, { pickup: 1, repeatStart: true }, {}, { repeatEnd: 2 }],
      '1 2 1 2 4 5 4 5',
    ],
    [
      'a bar broken over two lines counts once',
      [{}, {}, {}, {}, { continues: true, repeatEnd: 2 }, {}],
      '1 2 3 4 1 2 3 4 6',
    ],
  ];
  test.each(cases)('%s', (_, signs, route) => {
    expect(played(...signs)).toBe(route);
  });

  const wrong: [name: string, signs: Partial<Bar>[], kind: string, bar: string][] = [
    ['a second ending alone', [{}, second], 'ending-missing', 'b2'],
    ['two first endings', [{}, { ...first, repeatEnd: 2 }, { ending: [1, 2] }], 'ending-twice', 'b3'],
    ['a first ending outside a repeat', [{}, {}, first], 'ending-alone', 'b3'],
    ['a repeat that never ends', [{}, { repeatStart: true }, {}], 'repeat-never-ends', 'b2'],
    [
      'a repeat inside a repeat',
      [{ repeatStart: true }, { repeatStart: true }, { repeatEnd: 2 }, { repeatEnd: 2 }],
      'repeat-nested',
      'b2',
    ],
    ['ten thousand bars of rest', [{ restBars: 99, repeatEnd: 99 }], 'too-long', 'b1'],
    ['ten thousand bars', [{}, ...plainBars(99, { 98: { repeatEnd: 99 } })], 'too-long', 'b1'],
  ];
  test.each(wrong)('%s is a problem that says where', (_, signs, kind, bar) => {
    expect(routeFrom(marksOf(signs)).problems).toContainEqual({ kind, bar });
    expect(planOf(marksOf(signs), defaultNumbers).bars.length).toBeLessThanOrEqual(4000);
  });
});

const yes = fc.constantFrom<[undefined, true]>(undefined, true);
const bar = fc
  .record({
    repeatStart: yes,
    repeatEnd: fc.constantFrom(undefined, undefined, undefined, 2, 3),
    ending: fc.constantFrom(undefined, undefined, undefined, [1], [2], [1, 2], [3]),
    continues: fc.constantFrom(undefined, undefined, undefined, true as const),
  })
  .map((signs) => Object.fromEntries(Object.entries(signs).filter(([, value]) => value !== undefined)));

describe('any repeats and endings at all', () => {
  test('give a route that ends, is always the same, and holds every bar that is not said to be missed', () => {
    let sound = 0;
    fc.assert(
      fc.property(fc.array(bar, { minLength: 1, maxLength: 24 }), fc.boolean(), (signs, pickup) => {
        const marks = marksOf(pickup ? [{ pickup: 1 }, ...signs] : signs);
        const { written, places, problems } = routeFrom(marks);
        const ids = places.map((place) => place.bar.id);
        expect(routeOf(structuredClone(marks))).toEqual(ids);
        // Without a jump only an ending whose number was given before can be missed.
        if (problems.some(({ kind }) => kind === 'ending-twice')) return;
        sound += 1;
        expect(new Set(ids)).toEqual(new Set(written.map(({ id }) => id)));
      }),
      { numRuns: 2000 },
    );
    // Enough of them could be played for the property to mean something.
    expect(sound).toBeGreaterThan(500);
  });
});
