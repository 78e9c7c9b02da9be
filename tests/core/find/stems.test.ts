/** Twins whose stems go the other way, as notes on the middle line do. */
import { expect, it } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import type { Ink } from '../../../src/core/find/types.ts';
import { head, line, staff } from './drawn/ink.ts';

const MIDDLE = 110;
type Way = 'up' | 'down';
const tip = (way: Way) => MIDDLE + (way === 'up' ? -17 : 17);
const stemX = (x: number, way: Way) => x + (way === 'up' ? 6.2 : 0.3);
const note = (x: number, way: Way, y = MIDDLE): Ink[] => [
  head(x, y),
  line(stemX(x, way), y, stemX(x, way), y + tip(way) - MIDDLE),
];
/** Two notes under so many beams. */
const pair = (x: number, way: Way, beams: number): Ink[] => [
  ...note(x, way),
  ...note(x + 30, way),
  ...Array.from({ length: beams }, (_, i) => {
    const y = tip(way) + i * (way === 'up' ? 4 : -4);
    return line(stemX(x, way), y, stemX(x + 30, way), y, 2.5);
  }),
];
const twins = (left: Ink[], right: Ink[]) =>
  wholeChart([
    findInInk({
      width: 600,
      height: 800,
      ink: [...staff(100), ...[300, 550].map((x) => line(x, 100, x, 120)), ...left, ...right],
    }),
  ]).twins;

it.each([
  ['stems that go the other way', note(100, 'up'), note(350, 'down'), true],
  ['beams on the other side', pair(100, 'up', 2), pair(350, 'down', 2), true],
  [
    'beams of notes a step apart that stand close together',
    [...note(100, 'down'), ...note(107.6, 'down', MIDDLE - 2.5)],
    [...note(350, 'down'), ...note(360, 'up', MIDDLE - 2.5)],
    true,
  ],
  ['more beams', pair(100, 'up', 1), pair(350, 'down', 2), false],
  ['another note', note(100, 'up'), note(350, 'up', MIDDLE - 2.5), false],
  [
    'two voices, with the beam at the other one',
    [...pair(100, 'up', 1), ...note(100, 'down', MIDDLE + 10)],
    [...pair(350, 'down', 1), ...note(350, 'up', MIDDLE + 10)],
    false,
  ],
])('%s', (_, left, right, isTwin) => {
  expect(twins(left, right)).toEqual(isTwin ? [[0, 1]] : []);
});
