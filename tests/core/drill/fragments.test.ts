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
  clearFragments(pixels, 10, 6, { band: 2 });
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
  clearFragments(pixels, 11, 6, { band: 2 }, { paper: grey / 255, ink: 0.1 });
  // Gone with its rim; what reaches further in stays whole.
  expect(pixels).toEqual(pixelsOf(['..........#', ...rows.slice(1)], grey));
});

it('of a scan set large takes the wide pale rim along, and leaves that of other ink', () => {
  const [width, height, paper] = [30, 20, 200];
  const pixels = new Uint8ClampedArray(4 * width * height).fill(255);
  // Two strokes whose ink pales away over five pixels: one ends within the band, one goes through.
  const levels = [0, 60, 120, 150, 170, 180];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const short = Math.max(Math.abs(x - 7), y - 1, 0);
      const long = Math.abs(x - 22);
      const level = Math.min(levels[short] ?? paper, levels[long] ?? paper);
      pixels.fill(level, 4 * (y * width + x), 4 * (y * width + x) + 3);
    }
  const before = pixels.slice();
  clearFragments(pixels, width, height, { band: 9 }, { paper: paper / 255, ink: 0 });
  const column = (of: Uint8ClampedArray, x: number) =>
    Array.from({ length: height }, (_, y) => of[4 * (y * width + x)]!);
  for (let x = 0; x < 15; x++) expect(column(pixels, x)).toEqual(Array(height).fill(paper));
  for (let x = 15; x < width; x++) expect(column(pixels, x)).toEqual(column(before, x));
});

it('of a scan clears the pale tip of what ends at the edge', () => {
  const pixels = pixelsOf(Array(6).fill('.........#'), 200);
  for (const x of [2, 3]) pixels.fill(170, 4 * x, 4 * x + 3);
  clearFragments(pixels, 10, 6, { band: 3 }, { paper: 200 / 255, ink: 0 });
  expect(pixels).toEqual(pixelsOf(Array(6).fill('.........#'), 200));
});

it('leaves a page alone that is not white where it is said to be', () => {
  const pixels = pixelsOf(given, 230);
  clearFragments(pixels, 10, 6, { band: 2 });
  expect(pixels).toEqual(pixelsOf(given, 230));
});

it('clears what ends beside the left or right edge, and leaves what goes on through the bar', () => {
  const pixels = pixelsOf([
    '..........',
    '#........#',
    '##......##',
    '..........',
    '##########',
    '..........',
  ]);
  clearFragments(pixels, 10, 6, { band: 1, side: 2 });
  expect(rowsOf(pixels, 10)).toEqual([
    '..........',
    '..........',
    '..........',
    '..........',
    '##########',
    '..........',
  ]);
});

it('of what stands across an edge clears that of which more lies beyond it', () => {
  // The cut is what lies two px inside. Under it: the next line's letter, a descender, a stem; beside it: a letter.
  const rows = [
    '..............',
    '..............',
    '..............',
    '.........#....',
    '....#....#....',
    '....#....#....',
    '....#....#....',
    '..#.#....#.###',
    '..#.#....#....',
    '..#......#....',
    '..#...........',
  ];
  const pixels = pixelsOf(rows);
  clearFragments(pixels, 14, 11, { band: 1, side: 1, around: 2 });
  const cut = rowsOf(pixels, 14).slice(2, 9);
  expect(cut.map((row) => row.slice(2, 12))).toEqual([
    '..........',
    '.......#..',
    '..#....#..',
    '..#....#..',
    '..#....#..',
    '..#....#..',
    '..#....#..',
  ]);
});

it('clears what is raised beside a letter of the next line, and nothing that stands elsewhere', () => {
  // Three px around the cut; its lower edge runs through a letter, whose number is raised.
  const rows = [
    '................',
    '................',
    '...........#....',
    '...........#....',
    '.......#...#....',
    '.......#...#....',
    '.....#.#...#....',
    '.....#.....#....',
    '.....#.....#....',
    '.....#..........',
    '.....#..........',
  ];
  const pixels = pixelsOf(rows);
  clearFragments(pixels, 16, 11, { band: 1, side: 1, around: 3 });
  expect(rowsOf(pixels, 16).slice(3, 8)).toEqual(
    rows.slice(3, 8).map((row) => row.slice(0, 5) + '.....' + row.slice(10)),
  );
});

it('keeps a verse over one whose letters its lower edge runs through', () => {
  // Four px around the cut. The letters of the verse below are cut; those of the verse above end close over them.
  const rows = [
    ...Array(4).fill('................'),
    '....###.###.....',
    '....#.#.#.#.....',
    '....###.###.....',
    '................',
    '.....#.###.#....',
    '.....#.#.#.#....',
    '.....#.###.#....',
    '.....#.#...#....',
    '.....#.#...#....',
    '.....#.#...#....',
  ];
  const pixels = pixelsOf(rows);
  clearFragments(pixels, 16, 14, { band: 2, side: 1, around: 4 });
  expect(rowsOf(pixels, 16).slice(4, 10)).toEqual([...rows.slice(4, 7), ...Array(3).fill('.'.repeat(16))]);
});
