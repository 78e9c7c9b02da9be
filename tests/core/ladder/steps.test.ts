import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultNumbers, planOf } from '../../../src/core/chart/index.ts';
import type { Bar, Numbers, Plan } from '../../../src/core/chart/index.ts';
import { spanKey, stepsOf } from '../../../src/core/ladder/index.ts';
import { aaba, marksOf, plainBars } from '../chart/marks-of.ts';

/** Everything a musician may choose switched off: the bare rule. */
const bare: Partial<Numbers> = { differing: false, silence: true };

function planFor(signs: Partial<Bar>[], numbers: Partial<Numbers> = {}): Plan {
  return planOf(marksOf(signs), { ...defaultNumbers, ...bare, ...numbers });
}
/** Steps as players would write them down: bars from 1. */
function spans(plan: Plan): string {
  return stepsOf(plan)
    .map(({ from, to }) => (from === to ? `${from + 1}` : `${from + 1}-${to + 1}`))
    .join(' ');
}
/** `count` bars in sections of `length`, with some changed. */
function sectioned(
  count: number,
  length: number,
  changed: Record<number, Partial<Bar>> = {},
): Partial<Bar>[] {
  return plainBars(count, changed).map((signs, i) =>
    i % length === 0 ? { section: `S${i}`, ...signs } : signs,
  );
}

// Worked out by hand from the method: b1 alone; b2 alone; b1–b2; b3 alone; b1–b3; …; bn alone; b1–bn.
const THREE = '1 2 1-2 3 1-3';
const EIGHT = '1 2 1-2 3 1-3 4 1-4 5 1-5 6 1-6 7 1-7 8 1-8';
const SECOND_EIGHT = '9 10 9-10 11 9-11 12 9-12 13 9-13 14 9-14 15 9-15 16 9-16';
const THIRD_EIGHT = '17 18 17-18 19 17-19 20 17-20 21 17-21 22 17-22 23 17-23 24 17-24';
const LAST_EIGHT = '25 26 25-26 27 25-27 28 25-28 29 25-29 30 25-30 31 25-31 32 25-32';

test('a multi-bar rest at the start of a section is no step before a note comes', () => {
  const plan = planFor([{ restBars: 4, silent: true }, {}, {}]);
  expect(spans(plan)).toBe('5 1-5 6 1-6');
});

describe('the bare rule', () => {
  test.each([
    ['one bar', 1, '1'],
    ['three bars', 3, THREE],
    ['eight bars', 8, EIGHT],
  ])('%s', (_, count, steps) => {
    expect(spans(planFor(plainBars(count)))).toBe(steps);
  });

  test('32 bars in four sections: each is chained, then they are joined from the first on', () => {
    const joins = '1-16 1-24 1-32';
    expect(spans(planFor(sectioned(32, 8)))).toBe(
      [EIGHT, SECOND_EIGHT, THIRD_EIGHT, LAST_EIGHT, joins].join(' '),
    );
  });

  test('32 bars A A B A: what is a twin of a step before is left out', () => {
    const plan = planOf(aaba(), { ...defaultNumbers, ...bare });
    expect(spans(plan)).toBe([EIGHT, THIRD_EIGHT, '1-16', '1-24', '1-32'].join(' '));
    expect(stepsOf(plan)).toHaveLength(15 + 15 + 3);
  });

  test('one section of n bars: n alone and n − 1 chained', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), (n) => {
        const steps = stepsOf(planFor(plainBars(n)));
        expect(steps.filter((step) => step.kind === 'alone')).toHaveLength(n);
        expect(steps.filter((step) => step.kind === 'chain')).toHaveLength(n - 1);
      }),
    );
  });

  test('a bar repeated inside a section is not learned twice, but chained', () => {
    expect(spans(planFor([{}, { as: 'b1' }, {}]))).toBe('1 1-2 3 1-3');
  });

  test('N for joins of sections is their own', () => {
    const steps = stepsOf(planFor(sectioned(4, 2), { streak: 7, joinStreak: 3 }));
    expect(steps.map((step) => step.streak)).toEqual([7, 7, 7, 7, 7, 7, 3]);
  });

  test('no bars, no steps', () => {
    expect(stepsOf(planFor([]))).toEqual([]);
  });
});

describe('joining in pairs', () => {
  const joins = (sections: number) =>
    stepsOf(planFor(sectioned(sections, 1), { joining: 'pairs' }))
      .filter((step) => step.kind === 'join')
      .map(({ from, to }) => `${from + 1}-${to + 1}`)
      .join(' ');
  test.each([
    [2, '1-2'],
    [3, '1-2 1-3'],
    [4, '1-2 3-4 1-4'],
    [5, '1-2 3-4 1-4 1-5'],
    [6, '1-2 3-4 5-6 1-4 1-6'],
    [7, '1-2 3-4 5-6 1-4 5-7 1-7'],
    [8, '1-2 3-4 5-6 7-8 1-4 5-8 1-8'],
  ])('%i sections', (sections, expected) => {
    expect(joins(sections)).toBe(expected);
  });

  test('equal pairs once: A A B A in sections of four', () => {
    const plan = planOf(aaba(), { ...defaultNumbers, ...bare, sectionLength: 4, joining: 'pairs' });
    const found = stepsOf(plan).filter((step) => step.kind === 'join');
    expect(found.map(({ from, to }) => [from + 1, to + 1])).toEqual([
      [1, 8],
      [17, 24],
      [1, 16],
      [17, 32],
      [1, 32],
    ]);
  });
});

describe('seams', () => {
  const seams = (plan: Plan) =>
    stepsOf(plan)
      .filter((step) => step.kind === 'seam')
      .map(({ from, to }) => [from, to]);

  test('two bars before and two after; the last bar into the first runs on past the end', () => {
    expect(seams(planFor(sectioned(32, 8), { seams: true }))).toEqual([
      [6, 9],
      [14, 17],
      [22, 25],
      [30, 33],
    ]);
  });
  test('each different one once: in A A B A the end into the beginning is A into A', () => {
    expect(seams(planOf(aaba(), { ...defaultNumbers, seams: true }))).toEqual([
      [6, 9],
      [14, 17],
      [22, 25],
    ]);
  });
  test('endings are seams too', () => {
    // 1 2 3 4 5(first) 1 2 3 4 6(second): away after 5, after the second 4, and from the end.
    const plan = planFor([{}, {}, {}, {}, { ending: [1], repeatEnd: 2 }, { ending: [2] }], { seams: true });
    expect(seams(plan)).toEqual([
      [3, 6],
      [7, 10],
      [8, 11],
    ]);
  });
  test('all come before the first join, with N as for bars', () => {
    const steps = stepsOf(planFor(sectioned(32, 8), { seams: true, joining: 'pairs', joinStreak: 3 }));
    const kinds = steps.map((step) => step.kind);
    expect(kinds.lastIndexOf('seam')).toBeLessThan(kinds.indexOf('join'));
    expect(kinds.lastIndexOf('chain')).toBeLessThan(kinds.indexOf('seam'));
    expect(steps.filter((step) => step.kind === 'seam').every((step) => step.streak === 10)).toBe(true);
  });
  test('a route of one bar runs into itself', () => {
    expect(seams(planFor([{}], { seams: true }))).toEqual([[0, 1]]);
  });
});

describe('a section that differs from its twin in some bars', () => {
  /** A of eight bars, then A again as the first but for some bars (counted from 1). */
  const almost = (...but: number[]): Partial<Bar>[] =>
    sectioned(16, 8).map((signs, i) =>
      i >= 8 && !but.includes(i + 1) ? { ...signs, as: `b${i - 7}` } : signs,
    );
  const after = (signs: Partial<Bar>[], numbers: Partial<Numbers> = {}) =>
    spans(planFor(signs, { differing: true, ...numbers })).slice(EIGHT.length + 1);

  test('needs those bars alone, and one chain from the bar before the first of them to its end', () => {
    expect(after(almost(14, 15, 16))).toBe('14 15 16 13-16 1-16');
    expect(after(almost(11, 14))).toBe('11 14 10-16 1-16');
    expect(after(almost(16))).toBe('16 15-16 1-16');
  });
  test('from its first bar when that is the one', () => {
    expect(after(almost(9))).toBe('9 9-16 1-16');
  });
  test('nothing when it differs in none', () => {
    expect(after(almost())).toBe('1-16');
  });
  test('is a section of its own when it differs in more than half', () => {
    expect(after(almost(9, 10, 11, 12, 13))).toContain('9 10 9-10');
    expect(after(almost(9, 10, 11, 12))).toBe('9 10 11 12 9-16 1-16');
  });
  test('is chained when the player wants that', () => {
    expect(after(almost(16), { differing: false })).toBe('16 9-16 1-16');
  });
  test('first and second ending: the second time needs its ending only', () => {
    const plan = planFor([{ section: 'A' }, {}, {}, { ending: [1], repeatEnd: 2 }, { ending: [2] }], {
      differing: true,
    });
    expect(spans(plan)).toBe('1 2 1-2 3 1-3 4 1-4 8 7-8 1-8');
  });
});

describe('silence and skipped bars', () => {
  test('a silent bar has no step alone; joins count it', () => {
    const silent = { silent: true as const };
    expect(spans(planFor([{}, {}, silent, silent]))).toBe('1 2 1-2 1-3 1-4');
    expect(spans(planFor([{}, silent], { silence: false }))).toBe('1 2 1-2');
  });
  test('a skipped bar has no step and no chain of its own', () => {
    expect(spans(planFor(plainBars(4), { skipped: ['b2'] }))).toBe('1 3 1-3 4 1-4');
  });
  test('the whole section is chained though its last bar is skipped', () => {
    expect(spans(planFor(plainBars(3), { skipped: ['b3'] }))).toBe('1 2 1-2 1-3');
    expect(spans(planFor(plainBars(3), { skipped: ['b1', 'b2', 'b3'] }))).toBe('');
  });
});

describe('sections cut to a length', () => {
  test('the last piece of each may be shorter', () => {
    expect(spans(planFor(plainBars(5), { sectionLength: 2 }))).toBe('1 2 1-2 3 4 3-4 5 1-4 1-5');
  });
});

describe('any plan', () => {
  const signs = fc.array(
    fc.record({ section: fc.option(fc.constantFrom('A', 'B'), { nil: undefined }), twin: fc.nat(19) }),
    { minLength: 1, maxLength: 20 },
  );
  test('lists every music once, each bar alone, and the whole route', () => {
    fc.assert(
      fc.property(signs, fc.boolean(), fc.boolean(), fc.boolean(), (bars, pairs, seams, differing) => {
        const plan = planFor(
          bars.map(({ section, twin }, i) => ({
            ...(section === undefined ? {} : { section }),
            ...(twin < i ? { as: `b${twin + 1}` } : {}),
          })),
          { joining: pairs ? 'pairs' : 'one-by-one', seams, differing },
        );
        const keys = stepsOf(plan).map((step) => spanKey(plan, step));
        expect(new Set(keys).size).toBe(keys.length);
        expect(keys).toContain(spanKey(plan, { from: 0, to: plan.bars.length - 1 }));
        for (const bar of plan.bars) expect(keys).toContain(String(bar.twin));
      }),
    );
  });
});
