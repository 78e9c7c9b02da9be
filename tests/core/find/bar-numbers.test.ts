import { describe, expect, it } from 'vitest';
import { withoutBarNumbers } from '../../../src/core/find/engraved/bar-numbers.ts';
import type { FoundSign } from '../../../src/core/find/types.ts';

describe('numbers in boxes', () => {
  const boxed = (text: string, bar: number): FoundSign => ({
    kind: 'section',
    text,
    page: 0,
    bar,
    box: [0.1, 0.1, 0.12, 0.12],
    sure: 0.95,
  });
  const texts = (signs: readonly FoundSign[], firsts: readonly number[]) =>
    withoutBarNumbers(signs, new Set(firsts)).map(({ text }) => text);

  it('over lines of so many bars count the bars, and are no sections', () => {
    const numbers = [boxed('5', 5), boxed('A', 5), boxed('10', 10), boxed('14', 15)];
    expect(texts(numbers, [0, 5, 10, 15])).toEqual(['A']);
  });
  it('that count sections stay', () => {
    const numbers = [boxed('1', 0), boxed('2', 4), boxed('3', 8)];
    expect(texts(numbers, [0, 4, 8])).toEqual(['1', '2', '3']);
  });
  it('within a line stay, as do single ones', () => {
    expect(texts([boxed('5', 4), boxed('9', 8)], [0, 6])).toEqual(['5', '9']);
    expect(texts([boxed('9', 8)], [0, 8])).toEqual(['9']);
  });
});
