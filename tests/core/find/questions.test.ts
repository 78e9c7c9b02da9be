import { describe, expect, test } from 'vitest';
import { edit } from '../../../src/core/chart/edit.ts';
import { rootOf } from '../../../src/core/chart/edit-twins.ts';
import type { Marks } from '../../../src/core/chart/types.ts';
import type { Likeness } from '../../../src/core/find/alike/runs.ts';
import type { Likely } from '../../../src/core/find/chart/likely.ts';
import { questionsOf } from '../../../src/core/find/chart/questions.ts';

/** Four lines of four bars. */
const marks: Marks = {
  version: 2,
  meter: { beats: 4, value: 4 },
  unit: null,
  systems: Array.from({ length: 4 }, (_, line) => ({
    id: `s${line}`,
    page: 0,
    top: 0.1 + 0.2 * line,
    bottom: 0.15 + 0.2 * line,
    bars: Array.from({ length: 4 }, (__, i) => ({
      id: `b${4 * line + i}`,
      x0: 0.1 + 0.2 * i,
      x1: 0.3 + 0.2 * i,
      found: 0.95,
    })),
  })),
};
const place = (index: number) => {
  const { page, top, bottom, bars } = marks.systems[Math.floor(index / 4)]!;
  const { x0, x1 } = bars[index % 4]!;
  return { page, box: [x0, top, x1, bottom] as const };
};
/** Bars from `from` on beside those from `like` on. */
const run = (from: number, like: number, looks: readonly Likeness[]): Likely =>
  looks.map((look, i) => ({ bar: place(from + i), like: place(like + i), look }));
const newId = () => {
  throw new Error('no bar comes to be');
};
const tell = (of: Marks, told: readonly [number, number, boolean][]) =>
  edit(
    of,
    {
      type: 'tell-twins',
      told: told.map(([bar, like, isSame]) => ({ bar: `b${bar}`, like: `b${like}`, isSame })),
    },
    newId,
  );

describe('questions about bars that look alike', () => {
  const likely = [run(8, 0, ['near', 'other', 'unknown', 'near'])];

  test('name the bars of the marks', () => {
    expect(questionsOf(marks, likely)).toEqual([
      {
        pairs: [
          { bar: 'b8', like: 'b0', look: 'near' },
          { bar: 'b9', like: 'b1', look: 'other' },
          { bar: 'b10', like: 'b2', look: 'unknown' },
          { bar: 'b11', like: 'b3', look: 'near' },
        ],
      },
    ]);
  });
  test('are answered for good, whatever the answer', () => {
    const said = tell(marks, [
      [8, 0, true],
      [9, 1, false],
      [10, 2, false],
      [11, 3, true],
    ]);
    expect(rootOf(said, 'b8')).toBe('b0');
    expect(rootOf(said, 'b9')).toBe('b9');
    expect(said.unlike).toEqual([
      ['b9', 'b1'],
      ['b10', 'b2'],
    ]);
    expect(questionsOf(said, likely)).toEqual([]);
    const none = tell(
      marks,
      [8, 9, 10, 11].map((bar) => [bar, bar - 8, false]),
    );
    expect(none.systems).toEqual(marks.systems);
    expect(questionsOf(none, likely)).toEqual([]);
  });
  test('are not asked where the player has said so already, or another bar stands there', () => {
    const as = edit(marks, { type: 'as', bars: ['b8', 'b9', 'b10', 'b11'], from: 'b0' }, newId);
    expect(questionsOf(as, likely)).toEqual([]);
    const moved = {
      ...marks,
      systems: marks.systems.map((system, i) =>
        i === 2 ? { ...system, top: system.top + 0.06, bottom: system.bottom + 0.06 } : system,
      ),
    };
    expect(questionsOf(moved, likely)).toEqual([]);
  });
  test('bring along what is a twin already', () => {
    const twins = edit(marks, { type: 'as', bars: ['b4'], from: 'b8' }, newId);
    const said = tell(twins, [[8, 0, true]]);
    expect(rootOf(said, 'b4')).toBe('b0');
  });
  test('an answer makes the bars the player’s own: finding again leaves their line as it is', () => {
    const said = tell(marks, [[8, 0, true]]);
    const again = edit(said, { type: 'take-found', found: { ...marks, systems: [] } }, newId);
    expect(again.systems.map(({ id }) => id)).toEqual(['s2']);
  });
});
