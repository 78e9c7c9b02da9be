import { describe, expect, it } from 'vitest';
import { defaultNumbers, planOf, type Bar } from '../../../src/core/chart/index.ts';
import { withParts } from '../../../src/core/find/chart/parts.ts';
import { marksOf, plainBars } from '../chart/marks-of.ts';

/** So many plain bars, one of them saying something more; the last one may close a repeat. */
const bars = (count: number, said: Record<number, Partial<Bar>> = {}): Partial<Bar>[] =>
  plainBars(count).map((bar, i) => ({ ...bar, ...said[i] }));
const named = (signs: readonly Partial<Bar>[], doubles: readonly string[] = []) => {
  const marks = withParts(marksOf([...signs]), new Set(doubles));
  return marks.systems
    .flatMap((system) => system.bars)
    .flatMap(({ id, section }) => (section === undefined ? [] : [`${section} ${id}`]));
};

describe('parts of a tune that nobody has named', () => {
  it('begin at its repeats', () => {
    const signs = [
      ...bars(8, { 7: { repeatEnd: 2 } }),
      ...bars(8, { 0: { repeatStart: true }, 7: { repeatEnd: 2 } }),
    ];
    expect(named(signs)).toEqual(['A b1', 'B b9']);
    const { sections } = planOf(withParts(marksOf(signs), new Set()), defaultNumbers);
    expect(sections.map(({ name, from, to }) => [name, from, to])).toEqual([
      ['A', 0, 7],
      ['A', 8, 15],
      ['B', 16, 23],
      ['B', 24, 31],
    ]);
  });
  it('have their pickup before them and their endings in them', () => {
    const signs = [
      { pickup: 1 },
      ...bars(7),
      { ending: [1], repeatEnd: 2 },
      { ending: [2] },
      ...bars(8, { 7: { repeatEnd: 2 } }),
    ];
    expect(named(signs)).toEqual(['A b2', 'B b11']);
  });
  it('begin behind double bar lines, and have the name of one they are almost like', () => {
    const again = (from: number) => Array.from({ length: 7 }, (_, i) => ({ as: `b${from + i}` }));
    const signs = [...bars(8), ...again(1), {}, ...bars(8), ...again(1), {}];
    expect(named(signs, ['b8', 'b16', 'b24', 'b32'])).toEqual(['A b1', 'A b9', 'B b17', 'A b25']);
  });
  it('may be one, if that is repeated', () => {
    expect(named(bars(16, { 15: { repeatEnd: 2 } }))).toEqual(['A b1']);
    expect(named(bars(16))).toEqual([]);
    expect(named(bars(4, { 3: { repeatEnd: 2 } }))).toEqual([]);
  });
  it('stand before a coda, which has a name of its own and may be short', () => {
    const signs = [
      ...bars(8, { 7: { repeatEnd: 2 } }),
      ...bars(8, { 5: { toCoda: true }, 7: { jump: 'dc-al-coda' } }),
      ...bars(2, { 0: { coda: true } }),
    ];
    // Two bars, the way to the coda, often have a double bar line at either end.
    const doubles = new Set(['b14', 'b16', 'b18']);
    expect(named(signs, [...doubles])).toEqual(['A b1', 'B b9']);
    const { sections } = planOf(withParts(marksOf(signs), doubles), defaultNumbers);
    expect(sections.map(({ name, from, to }) => [name, from, to])).toEqual([
      ['A', 0, 7],
      ['A', 8, 15],
      ['B', 16, 23],
      ['A', 24, 31],
      ['B', 32, 37],
      ['Coda', 38, 39],
    ]);
  });
  it('are not named where a section is, or where one is too short', () => {
    const repeat = { 7: { repeatEnd: 2 } } as const;
    expect(named([...bars(8, { ...repeat, 0: { section: 'X' } }), ...bars(8)])).toEqual(['X b1']);
    expect(named([...bars(2, { 1: { repeatEnd: 2 } }), ...bars(8)])).toEqual([]);
  });
});
