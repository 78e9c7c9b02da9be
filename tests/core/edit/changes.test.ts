import { describe, expect, test } from 'vitest';
import { changesBetween } from '../../../src/core/chart/changes.ts';
import { edit } from '../../../src/core/chart/edit.ts';
import type { Marks } from '../../../src/core/chart/types.ts';

let next = 0;
const newId = () => `n${next++}`;
const marks: Marks = {
  version: 2,
  systems: [0.1, 0.2].map((top, s) => ({
    id: `s${s}`,
    page: 0,
    top,
    bottom: top + 0.03,
    bars: [0, 1, 2].map((i) => ({ id: `${s}${i}`, x0: 0.1 + 0.2 * i, x1: 0.3 + 0.2 * i, found: 0.99 })),
  })),
  meter: { beats: 4, value: 4 },
  unit: null,
};
const said = (before: Marks, after: Marks) =>
  changesBetween(before, after).map(({ what, bar }) => `${what} ${bar ?? ''}`.trim());

describe('what has changed', () => {
  test('nothing where nothing has, nor where the finder is only surer', () => {
    expect(said(marks, marks)).toEqual([]);
    expect(said(marks, edit(marks, { type: 'vouch', bars: ['01'] }, newId))).toEqual([]);
  });
  test('bars that are gone, new or otherwise than before, in reading order', () => {
    const split = edit(marks, { type: 'add-line', bar: '11', x: null }, newId);
    const both = edit(split, { type: 'set-bars', bars: ['01'], change: { section: 'B' } }, newId);
    const fresh = both.systems[1]!.bars.filter(({ was }) => was).map(({ id }) => id);
    expect(said(marks, both)).toEqual(['changed 01', 'gone', ...fresh.map((id) => `new ${id}`)]);
  });
  test('a line moved by less than can be seen is none', () => {
    const moved = (x: number) => edit(marks, { type: 'move-line', system: 's0', line: 1, x }, newId);
    expect(said(marks, moved(0.3001))).toEqual([]);
    expect(said(marks, moved(0.32))).toEqual(['changed 00', 'changed 01']);
  });
});
