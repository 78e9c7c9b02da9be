import { describe, expect, it } from 'vitest';
import { inkRow, mayBeginAbove, rowsAbove, rowUnderTitle } from '../../../src/core/drill/begin.ts';

describe('where a line begins above its reach', () => {
  const rows = (drawn: string) => Array.from(drawn, (row) => row === '#');
  it.each([
    ['...####', 5, 'what stands across the end is taken whole, with two white rows'],
    ['#..###', 4, 'and no more than that'],
    ['..#.##', 5, 'one white row parts a letter from its dot'],
    ['..###.', 0, 'what ends before the reach is left out'],
    ['...#.#', 0, 'what begins in the reach is whole already'],
    ['######', 0, 'what goes on farther than was looked stays cut'],
    ['', 0, 'nothing was looked at'],
  ])('%s: %i rows, %s', (drawn, above) => {
    expect(rowsAbove(rows(drawn))).toBe(above);
  });

  it('is looked for where the reach ends by itself, not half the way to a neighbour or at the page’s edge', () => {
    const line = {
      page: 0,
      top: 0.2,
      bottom: 0.24,
      x0: 0.1,
      x1: 0.9,
      y1: 0.26,
      clefEnd: 0.15,
      clefMost: 0.3,
    };
    expect(mayBeginAbove({ ...line, y0: 0.2 - 1.2 * 0.04 })).toBe(true);
    expect(mayBeginAbove({ ...line, y0: 0.18 })).toBe(false);
    expect(mayBeginAbove({ ...line, top: 0.03, bottom: 0.07, y0: 0 })).toBe(false);
  });
});

describe('a line under the title of its tune', () => {
  /** Every sign is four columns wide, a staff four rows high, and the page's middle the line's. */
  const under = (...drawn: string[]) =>
    rowUnderTitle(
      drawn.map((row) =>
        inkRow(
          Array.from(row).flatMap((ink) => Array<boolean>(4).fill(ink === '#')),
          19.5,
          4,
        ),
      ),
      19.5,
      40,
      4,
    );
  it.each([
    [
      'begins under it',
      ['..........', '...####...', '...####...', '...#..#...', '..........', '.#........'],
      4,
    ],
    [
      'begins under it where it goes on farther than was looked',
      ['...####...', '...####...', '...####...', '..........'],
      3,
    ],
    [
      'has chord symbols as high, out of the middle',
      ['.##.......', '.##.......', '.##.......', '..........'],
      0,
    ],
    ['has a row of them', ['#...##...#', '#...##...#', '#...##...#', '..........'], 0],
    ['has a low word in the middle', ['..........', '...####...', '..........', '..........'], 0],
    ['has high notes in the middle', ['..........', '....##....', '....##....', '....##....'], 0],
  ])('%s', (_, drawn, row) => {
    expect(under(...drawn)).toBe(row);
  });
});
