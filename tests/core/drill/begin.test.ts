import { describe, expect, it } from 'vitest';
import {
  beginLook,
  inkRow,
  isHalfway,
  mayBeginAbove,
  rowsAbove,
  rowsBelow,
  rowUnderTitle,
} from '../../../src/core/drill/begin.ts';

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
    expect(rowsAbove(rows(drawn), drawn.length - 1)).toBe(above);
  });

  it.each([
    ['...##|###.', 4, 'what is mostly in the reach is the line’s own, a note on many ledger lines'],
    ['...##|###', 4, 'and so is what goes down to the staff'],
    ['..###|#...', 0, 'what is mostly over the end is the neighbour’s'],
  ])('%s: %i rows between two lines, %s', (drawn, above) => {
    const end = drawn.indexOf('|');
    expect(rowsAbove(rows(drawn.replace('|', '')), end, true)).toBe(above);
  });

  it('is looked for up to the staff over it, or as far as a tempo may stand, but not at the page’s edge', () => {
    const line = {
      page: 0,
      top: 0.2,
      bottom: 0.24,
      x0: 0.1,
      x1: 0.9,
      y1: 0.26,
      above: null,
      below: null,
      ownFrom: null,
      ownTo: null,
      clefEnd: 0.15,
      clefMost: 0.3,
    };
    const [alone, halfway] = [
      { ...line, y0: 0.2 - 1.2 * 0.04 },
      { ...line, y0: 0.18 },
    ];
    expect([mayBeginAbove(alone), isHalfway(alone)]).toEqual([true, false]);
    expect([mayBeginAbove(halfway), isHalfway(halfway)]).toEqual([true, true]);
    expect(beginLook(alone)).toBeCloseTo(0.2 - 2.2 * 0.04);
    // The staff over it ends at 0.16.
    expect(beginLook(halfway)).toBeCloseTo(0.16 + 0.1 * 0.04);
    expect(mayBeginAbove({ ...line, top: 0.03, bottom: 0.07, y0: 0 })).toBe(false);
  });
});

describe('where a line ends below its reach', () => {
  /** A picture from the staff's bottom line down; a line of '-' is where the reach ends. */
  const below = (...drawn: string[]) => {
    const rows = drawn.filter((row) => !row.startsWith('-'));
    const [ink, width] = [rows.join(''), rows[0]!.length];
    return rowsBelow((at) => ink[at] === '#', width, rows.length, drawn.indexOf('-'.repeat(width)));
  };
  it('takes whole what is mostly in it, with two white rows, though the next line has ink beside', () => {
    expect(below('####', '....', '#...', '#...', '----', '#.##', '..##', '..##')).toBe(3);
  });
  it('takes what is joined to the staff, a note on many ledger lines', () => {
    expect(below('####', '.#..', '----', '.#..', '.#..', '....')).toBe(4);
  });
  it('leaves what is mostly beyond, and what goes on to the next staff', () => {
    expect(below('####', '....', '.#..', '----', '.#..', '.#..', '....')).toBe(0);
    expect(below('####', '.#..', '.#..', '.#..', '----', '.#..')).toBe(0);
  });
  it('leaves what ends in it', () => {
    expect(below('####', '.##.', '----', '....', '....')).toBe(0);
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
