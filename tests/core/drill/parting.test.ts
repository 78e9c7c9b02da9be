import { describe, expect, it } from 'vitest';
import { partingOf } from '../../../src/core/drill/parting.ts';

/**
 * Rows from staff to staff: '#' words all along, 'c' a sign, 'm' chord symbols here and there, '.' white. A staff is 20 rows
 * high, a line 200 columns long.
 */
const part = (rows: string) => {
  const has: Record<string, (x: number) => boolean> = {
    '#': (x) => x % 2 === 0,
    c: (x) => x < 15,
    m: (x) => x % 60 < 8,
  };
  const isInk = (x: number, y: number) => has[rows[y]!]?.(x) ?? false;
  return partingOf({ isInk, width: 200, height: rows.length, staff: 20, signs: 0 });
};

describe('where two lines part', () => {
  it('is under the last verse, which is like the one over it', () => {
    expect(part('..####..####........')).toEqual({ upper: 16, lower: 16 });
    expect(part('.####..####.......')).toEqual({ upper: 15, lower: 14 });
    expect(part('####..###.####.......')).toEqual({ upper: 18, lower: 17 });
  });

  it('is over a letter and the chord symbols of the lower line', () => {
    expect(part('.......cccc..ccc..')).toEqual({ upper: 4, lower: 3 });
    expect(part('......cccc.ccccc..')).toEqual({ upper: 3, lower: 3 });
  });

  it('is over the chord symbols of the lower line, wherever they stand, but not over what stands at the upper staff', () => {
    expect(part('........mmmmmmmmm.........')).toEqual({ upper: 4, lower: 4 });
    expect(part('.####........mmmmmm.........')).toEqual({ upper: 9, lower: 9 });
    // With the letter over them.
    expect(part('........ccc...mmmmmm.........')).toEqual({ upper: 4, lower: 4 });
    expect(part('...ccc........mmmmmm.........')).toEqual({ upper: 10, lower: 10 });
    expect(part('...mmmmmmmmm..............')).toBeNull();
    expect(part('........mmm...............')).toBeNull();
  });

  it('leaves each line what stands at its start: a segno under the upper one, a letter over the lower', () => {
    // White from 6 to 26; columns from 30 on are looked at for it.
    const at = (sign: readonly [from: number, to: number]) => {
      const isInk = (x: number, y: number) =>
        x < 30 ? x >= 8 && x < 14 && y >= sign[0] && y < sign[1] : y < 6 || (y >= 26 && y < 34 && x % 60 < 8);
      return partingOf({ isInk, width: 260, height: 44, staff: 20, signs: 30 });
    };
    expect(at([0, 1])).toEqual({ upper: 11, lower: 21 });
    expect(at([4, 15])).toEqual({ upper: 17, lower: 21 });
    expect(at([17, 27])).toEqual({ upper: 11, lower: 15 });
  });

  it('is half the way where the chord symbols of the lower line are nearer to the upper', () => {
    expect(part('..ccc.cccc.......')).toBeNull();
    expect(part('.####..cccc.......')).toBeNull();
    expect(part('.####......#.#........')).toBeNull();
  });

  it('is half the way where words of the upper line are far from it', () => {
    expect(part('......####..ccc...')).toBeNull();
  });

  it('is half the way where the white there is the widest, or nearly so, or there is hardly any', () => {
    expect(part('..####........####..')).toBeNull();
    expect(part('......cc.....cc..')).toBeNull();
    expect(part('cc..cccccc..cccc')).toBeNull();
    expect(part('####')).toBeNull();
    expect(part('')).toBeNull();
  });
});
