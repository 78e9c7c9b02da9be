import { describe, expect, it } from 'vitest';
import { wordsAcross } from '../../../src/core/drill/words.ts';

// A staff of 10 px: twelve columns to both sides of an edge are looked at.
const staff = 10;
const [left, right] = [12, 32];

/** A picture of '#' and '.', the staff's lines in the middle: `over` and `under` are rows of words. */
function across({ over = [], under = [] }: { over?: readonly string[]; under?: readonly string[] }) {
  const width = 44;
  const row = (text: string) => text.padEnd(width, '.');
  const blank = (n: number) => Array.from({ length: n }, () => row(''));
  const lines = Array.from({ length: staff }, (_, y) => (y % 3 === 0 ? '#'.repeat(width) : row('')));
  const rows = [
    ...blank(14 - over.length - 3),
    ...over.map(row),
    ...blank(3),
    ...lines,
    ...blank(3),
    ...under.map(row),
    ...blank(14),
  ];
  const ink = rows.join('');
  const words = wordsAcross((at) => ink[at] === '#', width, {
    left,
    right,
    upper: 0,
    lower: rows.length,
    top: 14,
    bottom: 14 + staff - 1,
    staff,
  });
  const columns = (places: readonly number[]) =>
    [...new Set(places.map((at) => at % width))].sort((a, b) => a - b);
  return words.map(({ inside, outside, isOurs }) => ({
    isOurs,
    inside: columns(inside),
    outside: columns(outside),
  }));
}

/** Letters of 4 px, one of white between, from a column on. */
const word = (from: number, letters: number) =>
  Array.from({ length: 5 }, () => '.'.repeat(from) + '####.'.repeat(letters));
const to = (from: number, end: number) => Array.from({ length: end - from }, (_, i) => from + i);

describe('words that a side of a cut runs through', () => {
  it('are ours where the larger part is inside: it goes on outside', () => {
    // 22..26, 27..31, 32..36 from 22 on: the right edge is before column 32.
    const [only, ...others] = across({ under: word(23, 3) });
    expect(others).toEqual([]);
    expect(only).toEqual({
      isOurs: true,
      inside: [...to(23, 27), ...to(28, 32)],
      outside: to(33, 37),
    });
  });

  it('are the neighbour’s where the larger part is outside, over the staff as under it', () => {
    for (const where of ['over', 'under']) {
      const [only, ...others] = across({ [where]: word(28, 3) });
      expect(others, where).toEqual([]);
      expect(only, where).toMatchObject({ isOurs: false, inside: to(28, 32) });
    }
  });

  it('the left edge is looked at, too', () => {
    expect(across({ under: word(2, 2) })).toEqual([]);
    expect(across({ under: word(7, 3) })).toEqual([
      { isOurs: true, inside: [...to(12, 16), ...to(17, 21)], outside: to(7, 11) },
    ]);
    expect(across({ under: word(4, 2) })).toMatchObject([{ isOurs: false, inside: [12] }]);
  });

  it('words that only stand close are none; what ends at the edge is ours', () => {
    const apart = word(18, 2).map((row) => `${row.slice(0, 27)}......####.####`);
    expect(across({ under: apart })).toEqual([]);
    expect(across({ under: word(22, 2) })).toEqual([
      { isOurs: true, inside: [...to(22, 26), ...to(27, 31)], outside: [] },
    ]);
  });

  it('nor are slurs, nor what is joined to the staff or cut above or below', () => {
    const slur = ['.'.repeat(20) + '#'.repeat(20)];
    expect(across({ over: slur })).toEqual([]);
    const stroke = (from: number, end: number) =>
      wordsAcross((at) => at % 44 >= 29 && at % 44 < 34 && at >= 44 * from && at < 44 * end, 44, {
        ...{ left, right, upper: 2, lower: 44 },
        ...{ top: 14, bottom: 23, staff },
      });
    expect([stroke(10, 14), stroke(22, 30), stroke(0, 6), stroke(40, 46)]).toEqual([[], [], [], []]);
    expect(stroke(28, 34)).toHaveLength(1);
  });

  it('letters of one word may touch', () => {
    const joined = word(28, 3).map((row) => row.replaceAll('#.#', '###'));
    expect(across({ under: joined })).toMatchObject([{ isOurs: false, inside: to(28, 32) }]);
  });

  it('two verses under each other are two rows of words', () => {
    const verses = [...word(23, 3), '', ...word(28, 3)];
    expect(across({ under: verses }).map(({ isOurs }) => isOurs)).toEqual([true, false]);
  });
});
