import { describe, expect, test } from 'vitest';
import { beatsOf, unitOf } from '../../../src/core/chart/index.ts';
import type { BeatUnit } from '../../../src/core/chart/index.ts';

// Common practice, no source: the unit that players count, and the beats of a bar in it.
const cases: [beats: number, value: number, unit: BeatUnit, inBar: number][] = [
  [4, 4, 'quarter', 4],
  [3, 4, 'quarter', 3],
  [5, 4, 'quarter', 5],
  [6, 8, 'dotted-quarter', 2],
  [9, 8, 'dotted-quarter', 3],
  [12, 8, 'dotted-quarter', 4],
  [2, 2, 'half', 2],
  [3, 2, 'half', 3],
  [3, 8, 'eighth', 3],
  [5, 8, 'eighth', 5],
  [7, 8, 'eighth', 7],
  [4, 8, 'quarter', 2],
  [6, 16, 'dotted-eighth', 2],
  [7, 16, 'sixteenth', 7],
];

describe('the beat unit follows the meter', () => {
  test.each(cases)('%i/%i counts the %s, %i to a bar', (beats, value, unit, inBar) => {
    expect(unitOf({ beats, value }, null)).toBe(unit);
    expect(beatsOf({ beats, value }, unit)).toBeCloseTo(inBar, 12);
  });

  test('what the player chose goes first, and a bar may hold a fraction of it', () => {
    expect(unitOf({ beats: 4, value: 4 }, 'half')).toBe('half');
    expect(beatsOf({ beats: 7, value: 8 }, 'quarter')).toBe(3.5);
  });
});
