import { describe, expect, test } from 'vitest';
import { parseMarks } from '../../../src/core/chart/index.ts';
import { takeOut } from '../../../src/core/chart/part.ts';
import type { Bar, Marks, System } from '../../../src/core/chart/types.ts';

const line = (id: string, top: number, ids: string, says: Record<string, Partial<Bar>> = {}): System => ({
  id,
  page: 0,
  top,
  bottom: top + 0.03,
  bars: Array.from(ids).map((bar, i) => ({ id: bar, x0: 0.1 + 0.2 * i, x1: 0.3 + 0.2 * i, ...says[bar] })),
});
const book: Marks = {
  version: 2,
  systems: [
    line('s1', 0.1, 'abcd'),
    line('s2', 0.2, 'efgh', { e: { as: 'a' } }),
    line('s3', 0.4, 'ijkl', { i: { meter: { beats: 3, value: 4 }, as: 'a' }, j: { as: 'a' } }),
    line('s4', 0.5, 'mnop'),
  ],
  meter: { beats: 4, value: 4 },
  unit: null,
  choruses: 2,
  byHand: [
    { from: 'a', to: 'd' },
    { from: 'e', to: 'h' },
  ],
};
const ids = (marks: Marks) => marks.systems.flatMap(({ bars }) => bars.map(({ id }) => id)).join('');

describe('lines that are a tune of their own', () => {
  const { part, rest } = takeOut(book, ['s3', 's4']);
  test('every bar is in one of the two, and ids stay', () => {
    expect(ids(part)).toBe('ijklmnop');
    expect(ids(rest)).toBe('abcdefgh');
  });
  test('the new chart starts in the meter that its lines stood in', () => {
    expect(part.meter).toEqual({ beats: 3, value: 4 });
    expect(part.systems[0]!.bars[0]!.meter).toBeUndefined();
    expect(takeOut(book, ['s4']).part.meter).toEqual({ beats: 3, value: 4 });
  });
  test('twins that are parted stay twins of each other on either side', () => {
    const [i, j] = part.systems[0]!.bars;
    expect(i!.as).toBeUndefined();
    expect(j!.as).toBe('i');
    expect(rest.systems[1]!.bars[0]!.as).toBe('a');
  });
  test('choruses and the order by hand stay with the tune they were said of', () => {
    expect(part.choruses).toBeUndefined();
    expect(part.byHand).toBeUndefined();
    expect(rest.choruses).toBe(2);
    expect(rest.byHand).toEqual(book.byHand);
  });
  test('both are marks that can be kept', () => {
    expect(parseMarks(part)).toEqual(part);
    expect(parseMarks(rest)).toEqual(rest);
  });
});
