import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runsOf, type Likeness } from '../../../src/core/find/alike/runs.ts';

/** A letter a bar: the same letter is the same music as far as the eye tells. */
const reading =
  (bars: string, unclear: readonly number[] = []) =>
  (early: number, late: number): Likeness => {
    if (unclear.includes(early) || unclear.includes(late)) return 'unknown';
    return bars[early] === bars[late] ? 'near' : 'other';
  };
const runs = (bars: string, unclear?: readonly number[]) =>
  runsOf(bars.length, reading(bars, unclear)).map(({ from, like, count }) => [from, like, count]);

describe('runs of bars that look alike', () => {
  test('a section is like the first of its kind, each time it comes back', () => {
    expect(runs('abcdefghabcdefghijklmnopabcdefgh')).toEqual([
      [8, 0, 8],
      [24, 0, 8],
    ]);
  });
  test('another ending belongs to no run; another bar in the middle does', () => {
    expect(runs('abcdefgh' + 'abcdefxy')).toEqual([[8, 0, 6]]);
    expect(runs('abcdefgh' + 'abcxefgh')).toEqual([[8, 0, 8]]);
  });
  test('bars that cannot be compared are bridged, and one of them taken along at an end', () => {
    expect(runs('abcdefgh' + 'abcdefgh', [4, 12])).toEqual([[8, 0, 8]]);
    expect(runs('abcdefgh' + 'abcdefgh', [8])).toEqual([[8, 0, 8]]);
    expect(runs('abcdefgh' + 'abcdefgh', [8, 9])).toEqual([[9, 1, 7]]);
  });
  test('one bar like another is no section', () => {
    expect(runs('abcdaefg')).toEqual([]);
  });
  test('a run never reaches into what it is like', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('a', 'b', 'c'), { maxLength: 24 }),
        fc.array(fc.nat(23), { maxLength: 4 }),
        (bars, unclear) => {
          const found = runsOf(bars.length, reading(bars.join(''), unclear));
          const later = found.flatMap(({ from, count }) => Array.from({ length: count }, (_, i) => from + i));
          expect(new Set(later).size).toBe(later.length);
          for (const { from, like, count } of found) {
            expect(like).toBeGreaterThanOrEqual(0);
            expect(like + count).toBeLessThanOrEqual(from);
            expect(from + count).toBeLessThanOrEqual(bars.length);
          }
        },
      ),
    );
  });
});
