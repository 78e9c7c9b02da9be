import { expect, it } from 'vitest';
import { clearFragments } from '../../../src/core/drill/fragments.ts';

/** Rows of '#' (ink) and '.' (paper) as pixels, and back. */
const pixelsOf = (rows: readonly string[], paper = 255) =>
  Uint8ClampedArray.from(
    Array.from(rows.join('')).flatMap((c) => (c === '#' ? [0, 0, 0, 255] : [paper, paper, paper, 255])),
  );
const rowsOf = (pixels: Uint8ClampedArray, width: number) =>
  Array.from({ length: pixels.length / 4 / width }, (_, y) =>
    Array.from({ length: width }, (_, x) => (pixels[4 * (y * width + x)]! < 250 ? '#' : '.')).join(''),
  );
const given = ['##...#....', '.#...#..#.', '.....#..#.', '....##....', '..........', '.......##.'];

it('clears what touches an edge and ends within the band; what goes deeper or touches none stays whole', () => {
  const pixels = pixelsOf(given);
  clearFragments(pixels, 10, 6, 2);
  expect(rowsOf(pixels, 10)).toEqual([
    '.....#....',
    '.....#..#.',
    '.....#..#.',
    '....##....',
    '..........',
    '..........',
  ]);
});

it('on the grey paper of a scan takes the paper of that scan, the pale rim of the ink included', () => {
  const grey = 200;
  const rows = ['#.........#', '..........#', '..........#', '..........#', '...........', '...........'];
  const pixels = pixelsOf(rows, grey);
  const pale = 4 * 1;
  pixels.fill(180, pale, pale + 3);
  clearFragments(pixels, 11, 6, 2, { paper: grey / 255, ink: 0.1 });
  // Gone with its rim; what reaches further in stays whole.
  expect(pixels).toEqual(pixelsOf(['..........#', ...rows.slice(1)], grey));
});

it('leaves a page alone that is not white where it is said to be', () => {
  const pixels = pixelsOf(given, 230);
  clearFragments(pixels, 10, 6, 2);
  expect(pixels).toEqual(pixelsOf(given, 230));
});
