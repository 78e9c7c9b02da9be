import { expect, test } from 'vitest';
import { edit } from '../../../src/core/chart/edit.ts';
import { parseMarks } from '../../../src/core/chart/index.ts';
import { turnOf } from '../../../src/core/chart/turn.ts';
import type { Marks } from '../../../src/core/chart/types.ts';
import { marksOf } from './marks-of.ts';

const newId = () => 'new';
const turned = (marks: Marks) => edit(marks, { type: 'turn-pages' }, newId);
const found = (): Marks => {
  const marks = marksOf([{}, {}]);
  const systems = marks.systems.map((system) => ({
    ...system,
    bars: system.bars.map((bar) => ({ ...bar, found: 0.5 })),
  }));
  return { ...marks, systems };
};

test('pages turn by quarters and come round again; what was found as they lay is dropped', () => {
  let marks = found();
  for (const turn of [90, 180, 270, 0]) {
    marks = turned(marks);
    expect(turnOf(marks)).toBe(turn);
    expect(marks.systems).toEqual([]);
    expect(parseMarks(marks)).toEqual(marks);
  }
  expect(marks.version).toBe(1);
});

test('bars that the player has marked are never dropped: then the page stays as it lies', () => {
  const marks = found();
  const own = edit(marks, { type: 'vouch', bars: [marks.systems[0]!.bars[1]!.id] }, newId);
  expect(() => turned(own)).toThrow('own-bars');
});
