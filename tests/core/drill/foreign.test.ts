import { expect, it } from 'vitest';
import { foreignIn } from '../../../src/core/drill/foreign.ts';

/** Rows with '|' before and behind those that are the line's own: what of the others is not, as '#'. */
function foreign(...drawn: string[]): string[] {
  const rows = drawn.filter((row) => !row.startsWith('|'));
  const width = rows[0]!.length;
  const [from, to] = [drawn.indexOf('|'), drawn.lastIndexOf('|') - 1];
  const ink = rows.join('');
  const found = new Set(foreignIn((at) => ink[at] === '#', width, rows.length, from, to));
  return rows.map((_, y) =>
    Array.from({ length: width }, (_, x) => (found.has(y * width + x) ? '#' : '.')).join(''),
  );
}

it('what stands over and under a line’s own rows is another’s, unless it is joined to what stands in them', () => {
  expect(foreign('#...', '#..#', '|', '..#.', '.#..', '|', '#...', '.#.#')).toEqual([
    '#...',
    '#...',
    '....',
    '....',
    '....',
    '...#',
  ]);
});

it('nothing is another’s where all rows are its own', () => {
  const ink = '#.##';
  expect(foreignIn((at) => ink[at] === '#', 2, 2, -Infinity, Infinity)).toEqual([]);
});
