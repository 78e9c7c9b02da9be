import { describe, expect, it } from 'vitest';
import { partingOf } from '../../../src/core/drill/parting.ts';

/** What a row may hold, by its column: words all along, a sign, chord symbols here and there. */
const HAS: Record<string, (x: number) => boolean> = {
  w: (x) => x % 12 < 8,
  s: (x) => x < 15,
  m: (x) => x % 60 < 8,
};

interface More {
  readonly signs?: number;
  readonly ink?: (x: number, y: number) => boolean;
}

/**
 * Rows from staff to staff of a line 200 columns long, '.' white; a staff is 20 rows high. Which row is the first beyond
 * the upper line, and which of the lower.
 */
function part(rows: string, { signs = 0, ink = () => false }: More = {}) {
  const isInk = (x: number, y: number) => ink(x, y) || (HAS[rows[y]!]?.(x) ?? false);
  const found = partingOf({ isInk, width: 200, height: rows.length, staff: 20, signs });
  return found && [found.upper, found.lower];
}

describe('where two lines part', () => {
  it('is under the last verse', () => {
    expect(part('..wwwww..wwwww.......')).toEqual([18, 17]);
    expect(part('.....wwwwwwww....')).toEqual([15, 15]);
    // With the few words of a verse that ends.
    expect(part('..wwwww..sssss.......')).toEqual([18, 17]);
    expect(part('..wwwww......sssss...')).toEqual([10, 10]);
  });

  it('is over the chord symbols of the lower line, wherever they stand, but not over fingering at the upper staff', () => {
    expect(part('........mmmmmmmmm.........')).toEqual([4, 4]);
    expect(part('.wwwww........mmmmmmmm.......')).toEqual([10, 10]);
    expect(part('........sssssss...mmmmmmmm.......')).toEqual([4, 4]);
    expect(part('...sssssss......mmmmmmmm.......')).toEqual([13, 13]);
    expect(part('.......ssssssssssssss......mmmmmmmm.........')).toEqual([4, 3]);
    expect(part('...mmm........................')).toBeNull();
    expect(part('..ssssssssssssss....mmmmmmmm.......')).toEqual([1, 1]);
    // An accidental of a low note.
    const sharp = { ink: (x: number, y: number) => x < 6 && y >= 2 && y < 16 };
    expect(part('....................mmmmmmmm.......', sharp)).toEqual([18, 18]);
  });

  it('is under low notes without stems, over chord symbols or without', () => {
    expect(part('........mmmmm......mmmmmmmmm......')).toEqual([16, 16]);
    expect(part('........mmmmm......................')).toBeNull();
  });

  it('is under verses that touch, and under large ones', () => {
    expect(part('..wwwwwwwwwwwwwwwwwwwwwwwwwwww.......')).toEqual([34, 33]);
  });

  it('is at the widest white where a sign stands alone, unless half the way is as good', () => {
    expect(part('...sssss...ssss.......')).toEqual([19, 18]);
    expect(part('..ssss........ssss..')).toBeNull();
    expect(part('.....sss.....sss......')).toBeNull();
    expect(part('')).toBeNull();
  });

  it('leaves each line its own notes, however far they reach', () => {
    const rows = '.'.repeat(12) + 'mmmmmmmm' + '.'.repeat(10);
    const low = (x: number, y: number) => x === 30 && y < 17;
    const high = (x: number, y: number) => x === 100 && y > 6;
    expect(part(rows, { ink: low })).toEqual([19, 7]);
    expect(part(rows, { ink: high })).toEqual([5, 5]);
    expect(part(rows, { ink: (x, y) => low(x, y) || high(x, y) })).toEqual([19, 5]);
  });

  it('leaves each line what stands at its start: a segno under the upper one, a letter over the lower', () => {
    const rows = '.'.repeat(24) + 'mmmmmmmm' + '.'.repeat(4);
    const sign = (from: number, end: number) => ({
      signs: 30,
      ink: (x: number, y: number) => x >= 10 && x < 16 && y >= from && y < end,
    });
    expect(part(rows, sign(2, 11))).toEqual([13, 19]);
    expect(part(rows, sign(14, 22))).toEqual([5, 12]);
  });
});
