import { describe, expect, test } from 'vitest';
import { edit } from '../../../src/core/chart/edit.ts';
import { parseMarks, takeFound, takePage } from '../../../src/core/chart/index.ts';
import { turnOn, turnsOf, turnsWith, withTurns } from '../../../src/core/chart/turn.ts';
import type { Marks, System, Turn } from '../../../src/core/chart/types.ts';
import { marksOf } from './marks-of.ts';

const newId = () => 'new';
const turned = (marks: Marks, page: number) => edit(marks, { type: 'turn-page', page }, newId);
const turnsIn = (marks: Marks, pages = 3): Turn[] =>
  Array.from({ length: pages }, (_, page) => turnOn(turnsOf(marks), page));
const pagesOf = ({ systems }: Marks) => systems.map(({ page }) => page);

/** A line of found bars named a, b … on a page, and how they are alike. */
const line = (page: number, names: string, as: Record<string, string> = {}): System => ({
  id: `${names} on ${page}`,
  page,
  top: 0.1,
  bottom: 0.15,
  bars: Array.from(names).map((id, i) => ({
    id,
    x0: 0.1 + 0.2 * i,
    x1: 0.3 + 0.2 * i,
    found: 0.95,
    ...(as[id] !== undefined && { as: as[id] }),
  })),
});
const found = (...systems: System[]): Marks => ({ ...marksOf([{}]), version: 2, systems });

describe('a page that is turned', () => {
  const two = found(line(0, 'ab'), line(1, 'cd', { c: 'a' }));

  test('turns by quarters and comes round again; what was found on it as it lay is dropped, the rest stays', () => {
    let marks = two;
    for (const turn of [90, 180, 270, 0]) {
      marks = turned(marks, 1);
      expect(turnsIn(marks)).toEqual([0, turn, 0]);
      expect(marks.systems).toEqual([two.systems[0]]);
      expect(parseMarks(marks)).toEqual(marks);
    }
    expect(marks.version).toBe(2);
  });
  test('turns alone where all pages were turned by an earlier release', () => {
    const old = withTurns(found(), { pages: {}, rest: 90 });
    expect(old.version).toBe(3);
    expect(turnsIn(turned(old, 1))).toEqual([90, 180, 90]);
  });
  test('stays as it lies where the player has marked a bar; another page still turns', () => {
    const own = edit(two, { type: 'vouch', bars: ['d'] }, newId);
    expect(() => turned(own, 1)).toThrow('own-bars');
    expect(turnsIn(turned(own, 0))).toEqual([90, 0, 0]);
  });
});

describe('what is found on a turned page', () => {
  const lying = (marks: Marks, page: number, turn: Turn) =>
    withTurns(marks, turnsWith(turnsOf(marks), page, turn));
  // Found anew its bars have other names; the third line had been taken off.
  const anew = lying(found(line(0, 'AB'), line(1, 'CD', { C: 'A', D: 'B' }), line(2, 'E')), 1, 90);

  test('is taken alone; a bar elsewhere that nobody has touched is a twin of it', () => {
    const before = turned(found(line(0, 'ab'), line(1, 'cd')), 1);
    const marks = takePage(before, anew, 1);
    expect(pagesOf(marks)).toEqual([0, 1]);
    expect(marks.systems[0]).toEqual(before.systems[0]);
    expect(marks.systems[1]!.bars.map(({ id, as }) => [id, as])).toEqual([
      ['C', 'a'],
      ['D', 'b'],
    ]);
    expect(parseMarks(marks)).toEqual(marks);
  });
  test('is a twin of no bar that the player has touched', () => {
    const before = edit(turned(found(line(0, 'ab')), 1), { type: 'vouch', bars: ['a'] }, newId);
    expect(takePage(before, anew, 1).systems[1]!.bars.some(({ as }) => as !== undefined)).toBe(false);
  });
  test('stays out where the page lies otherwise', () => {
    expect(pagesOf(takePage(found(line(0, 'ab')), anew, 1))).toEqual([0]);
  });
  test('turns a page that holds nothing when all is found again, and never one with bars of the player', () => {
    const empty = takeFound(found(line(0, 'ab')), anew).marks;
    expect([turnsIn(empty), pagesOf(empty)]).toEqual([
      [0, 90, 0],
      [0, 1, 2],
    ]);
    const own = edit(found(line(1, 'cd')), { type: 'vouch', bars: ['c'] }, newId);
    const kept = takeFound(own, anew).marks;
    expect([turnsIn(kept), pagesOf(kept)]).toEqual([
      [0, 0, 0],
      [0, 1, 2],
    ]);
    expect(kept.systems[1]).toEqual(own.systems[0]);
  });
});
