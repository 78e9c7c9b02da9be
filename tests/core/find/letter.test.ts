import { describe, expect, it } from 'vitest';
import { boxOf } from '../../../src/core/find/rings.ts';
import { LetterOutline } from '../../../src/pdf/ink/letter.ts';
import type { Matrix } from '../../../src/pdf/ink/matrix.ts';

/** Path data of pdf.js (DrawOPS): 0 moves, 1 draws a line, 4 closes. */
const ring = (...points: readonly [number, number][]) => [
  ...points.flatMap(([x, y], i) => [i === 0 ? 0 : 1, x, y]),
  4,
];
const square = (x: number, y: number, size: number) =>
  ring([x, y], [x + size, y], [x + size, y + size], [x, y + size]);
const bar = (x: number) => ring([x, 0], [x + 0.02, 0], [x + 0.02, 0.7], [x, 0.7]);

const upright: Matrix = [20, 0, 0, -20, 100, 300];
const quarter: Matrix = [0, 20, 20, 0, 100, 300];
const leaning: Matrix = [18, 5, -5, 18, 100, 300];
const stretched: Matrix = [100, 0, 0, -10, 0, 0];

describe('the outline of a letter', () => {
  const letter = new LetterOutline([...square(0, 0, 0.3), ...square(0.4, 0.1, 0.2)]);

  it.each([[upright], [quarter], [leaning]])('has the box of its rings under %j', (matrix) => {
    const [box, ofRings] = [letter.boxUnder(matrix), boxOf(letter.ringsUnder(matrix))];
    box.forEach((value, i) => {
      expect(value).toBeCloseTo(ofRings[i]!, 9);
    });
  });

  it('may be lines where a part of it is long and thin as it is set', () => {
    const double = new LetterOutline([...bar(0), ...bar(0.2)]);
    expect(double.mayBeLines(upright, double.boxUnder(upright))).toBe(true);
    expect(letter.mayBeLines(upright, letter.boxUnder(upright))).toBe(false);
    // Squares become lines where they are stretched: that has to be looked into.
    expect(letter.mayBeLines(stretched, letter.boxUnder(stretched))).toBe(true);
  });

  it('of one part is a line when it is long and thin', () => {
    const [one, dot] = [new LetterOutline(bar(0)), new LetterOutline(square(0, 0, 0.3))];
    expect(one.mayBeLines(upright, one.boxUnder(upright))).toBe(true);
    expect(dot.mayBeLines(upright, dot.boxUnder(upright))).toBe(false);
  });

  it('that paints nothing is blank', () => {
    const blank = new LetterOutline(null);
    expect(blank.isBlank).toBe(true);
    expect(blank.mayBeLines(upright, [0, 0, 0, 0])).toBe(false);
    expect(letter.isBlank).toBe(false);
  });
});
