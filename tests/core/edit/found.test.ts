import { describe, expect, test } from 'vitest';
import { edit } from '../../../src/core/chart/edit.ts';
import { doubtsOf, IN_DOUBT, parseMarks, takeFound } from '../../../src/core/chart/index.ts';
import type { Bar, Marks, System } from '../../../src/core/chart/types.ts';

let next = 0;
const newId = () => `n${next++}`;

const line = (id: string, top: number, ids: string, found: number | null = 0.99): System => ({
  id,
  page: 0,
  top,
  bottom: top + 0.03,
  bars: Array.from(ids).map((bar, i) => ({
    id: bar,
    x0: 0.1 + 0.2 * i,
    x1: 0.3 + 0.2 * i,
    ...(found !== null && { found }),
  })),
});
const marksOf = (...systems: System[]): Marks => ({
  version: 2,
  systems,
  meter: { beats: 4, value: 4 },
  unit: null,
});
const bars = (marks: Marks): readonly Bar[] => marks.systems.flatMap((system) => system.bars);
const ids = (marks: Marks) =>
  bars(marks)
    .map(({ id }) => id)
    .join('');
const own = (marks: Marks) =>
  bars(marks)
    .filter(({ found }) => found === undefined)
    .map(({ id }) => id)
    .join('');

describe('what the player has seen', () => {
  const found = marksOf(line('s', 0.1, 'abcd'), line('t', 0.2, 'efgh'));

  test('moving a line makes the two bars beside it the player’s own', () => {
    expect(own(edit(found, { type: 'move-line', system: 's', line: 1, x: 0.31 }, newId))).toBe('ab');
  });
  test('saying something of a bar makes it the player’s own', () => {
    const made = edit(found, { type: 'set-bars', bars: ['f'], change: { silent: true } }, newId);
    expect(own(made)).toBe('f');
  });
  test('moving a line of music makes all of it the player’s own', () => {
    expect(own(edit(found, { type: 'move-system', system: 't', dx: 0, dy: 0.01 }, newId))).toBe('efgh');
  });
  test('a bar whose twin was changed is still as it was found, one that was said to be no twin is not', () => {
    const twins: Marks = {
      ...found,
      systems: found.systems.map((system) => ({
        ...system,
        bars: system.bars.map((bar) => (bar.id === 'e' || bar.id === 'g' ? { ...bar, as: 'a' } : bar)),
      })),
    };
    expect(own(edit(twins, { type: 'add-line', bar: 'a', x: null }, newId))).not.toMatch(/[b-h]/);
    expect(own(edit(twins, { type: 'apart', bars: ['e'] }, newId))).toBe('e');
  });
  test('a bar that is right can be said to be so, and nothing else changes', () => {
    const made = edit(found, { type: 'vouch', bars: ['c'] }, newId);
    expect(own(made)).toBe('c');
    expect(edit(made, { type: 'vouch', bars: ['c'] }, newId)).toBe(made);
  });
  test('bars in doubt come in reading order, until someone has looked', () => {
    const doubtful = marksOf(line('s', 0.1, 'ab', IN_DOUBT - 0.1), line('t', 0.2, 'ef', IN_DOUBT));
    expect(doubtsOf(doubtful).map(({ id }) => id)).toEqual(['a', 'b']);
    expect(doubtsOf(edit(doubtful, { type: 'vouch', bars: ['a'] }, newId)).map(({ id }) => id)).toEqual([
      'b',
    ]);
  });
  test('what was found is kept with the marks', () => {
    expect(parseMarks(JSON.parse(JSON.stringify(found)))).toEqual(found);
  });
});

describe('finding again', () => {
  test('a line that the player has touched stays whole; the others are found anew', () => {
    const before = edit(
      marksOf(line('s', 0.1, 'abcd'), line('t', 0.2, 'efgh')),
      { type: 'set-bars', bars: ['b'], change: { section: 'A' } },
      newId,
    );
    const anew = marksOf(line('x', 0.1, '12'), line('y', 0.2, '5678'), line('z', 0.3, '9'));
    const { marks, added, gone, kept } = takeFound(before, anew);
    expect(ids(marks)).toBe('abcdefgh9');
    expect(bars(marks).find(({ id }) => id === 'b')?.section).toBe('A');
    expect({ added, gone, kept }).toEqual({ added: 1, gone: 0, kept: 4 });
  });
  test('a bar found elsewhere is another bar', () => {
    const { marks, added, gone } = takeFound(marksOf(line('s', 0.1, 'ab')), marksOf(line('x', 0.15, '12')));
    expect(ids(marks)).toBe('12');
    expect({ added, gone }).toEqual({ added: 2, gone: 2 });
  });
  test('finding the same again changes nothing of what was kept', () => {
    const before = marksOf(line('s', 0.1, 'abcd'), line('t', 0.2, 'efgh'));
    const { marks, added, gone } = takeFound(before, marksOf(line('x', 0.1, '1234'), line('y', 0.2, '5678')));
    expect(ids(marks)).toBe('abcdefgh');
    expect({ added, gone }).toEqual({ added: 0, gone: 0 });
  });
  test('found twins follow their bars, and never lead to a bar that is gone', () => {
    const twin = (id: string, top: number, of: string): System => ({
      ...line(id, top, '5678'),
      bars: line(id, top, '5678').bars.map((bar, i) => (i === 0 ? { ...bar, as: of } : bar)),
    });
    const own = edit(marksOf(line('s', 0.1, 'abcd')), { type: 'vouch', bars: ['a'] }, newId);
    const { marks } = takeFound(own, marksOf(line('x', 0.1, '1234'), twin('y', 0.2, '1')));
    expect(bars(marks).every((bar) => bar.as === undefined)).toBe(true);
    const again = takeFound(
      marksOf(line('s', 0.1, 'abcd')),
      marksOf(line('x', 0.1, '1234'), twin('y', 0.2, '1')),
    );
    expect(bars(again.marks).find(({ id }) => id === '5')?.as).toBe('a');
  });
  test('twins across a line that stays are kept, as found or as the player has said', () => {
    const as = (system: System, twins: Record<string, string>): System => ({
      ...system,
      bars: system.bars.map((bar) => (twins[bar.id] ? { ...bar, as: twins[bar.id]! } : bar)),
    });
    const before = marksOf(line('s', 0.1, 'abcd'), as(line('t', 0.2, 'efgh'), { e: 'a', f: 'b' }));
    const anew = marksOf(line('x', 0.1, '1234'), as(line('y', 0.2, '5678'), { '5': '1', '6': '2' }));
    const asOf = (marks: Marks) =>
      bars(marks)
        .map((bar) => bar.as ?? '-')
        .join('');
    // One bar of the first line has been touched.
    const said = edit(before, { type: 'set-bars', bars: ['d'], change: { section: 'B' } }, newId);
    expect(asOf(takeFound(said, anew).marks)).toBe('----ab--');
    // One of the second: now that line stays.
    const lower = edit(before, { type: 'set-bars', bars: ['h'], change: { silent: true } }, newId);
    expect(asOf(takeFound(lower, anew).marks)).toBe('----ab--');
    // What the player has said himself, and what he has taken apart, nobody finds otherwise.
    const like = edit(before, { type: 'tell-twins', told: [{ bar: 'g', like: 'c', isSame: true }] }, newId);
    expect(asOf(takeFound(like, anew).marks)).toBe('----abc-');
    const apart = edit(before, { type: 'apart', bars: ['e'] }, newId);
    expect(asOf(takeFound(apart, anew).marks)).toBe('-----b--');
  });
});
