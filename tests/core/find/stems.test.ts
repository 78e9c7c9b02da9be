/** Twins whose stems go the other way, as notes on the middle line do. */
import { expect, it } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import type { Ink, InkLine, InkShape } from '../../../src/core/find/types.ts';

const line = (x0: number, y0: number, x1: number, y1: number, thickness = 0.6): InkLine => ({
  kind: 'line',
  x0,
  y0,
  x1,
  y1,
  thickness,
  light: 0,
});
const head = (x: number, y: number): InkShape => ({
  kind: 'shape',
  box: [x, y - 2.5, x + 6.5, y + 2.5],
  filled: true,
  outline: 'head',
  rings: [[x, y, x + 3.2, y - 2.5, x + 6.5, y, x + 3.2, y + 2.5]],
  light: 0,
});
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
      ink: [
        ...[0, 1, 2, 3, 4].map((i) => line(50, 100 + i * 5, 550, 100 + i * 5)),
        ...[300, 550].map((x) => line(x, 100, x, 120)),
        ...left,
        ...right,
      ],
    }),
  ]).twins;

it.each([
  ['stems that go the other way', note(100, 'up'), note(350, 'down'), true],
  ['beams on the other side', pair(100, 'up', 2), pair(350, 'down', 2), true],
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
