import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endingNumbers } from '../../../src/core/find/engraved/brackets.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { readingOf } from '../../../src/core/find/engraved/signs.ts';
import type { Ink, InkGlyph, InkShape, PageInk } from '../../../src/core/find/types.ts';
import { head, letter, line, shape, staff } from './drawn/ink.ts';

const dot = (x: number, y: number): InkShape => shape(x - 1, y - 1, 2, 2, 'dot');
const page = (...ink: Ink[]): PageInk => ({ width: 600, height: 800, ink });
const barsIn = (...ink: Ink[]) => findInInk(page(...ink)).systems.flatMap(({ bars }) => bars);
const kinds = (...ink: Ink[]) => barsIn(...ink).map(({ left, right }) => [left, right]);

describe('a staff of one line', () => {
  const rhythm = (y: number, ...ink: Ink[]): Ink[] => [
    line(50, y, 550, y),
    ...[300, 550].map((x) => line(x, y - 5, x, y + 5)),
    ...ink,
  ];
  const note = (x: number, y: number): Ink[] => [
    {
      ...letter(x, y, '\ue0a4', { wide: 6.5, high: 5 }),
      font: 'Bravura',
      box: [x, y - 2.5, x + 6.5, y + 2.5],
    },
    line(x + 6.2, y - 17, x + 6.2, y, 0.5),
  ];
  const notes = [80, 150, 220, 350, 450].flatMap((x) => note(x, 200));

  it('has bars as high as its bar lines', () => {
    const found = findInInk(page(...rhythm(200, ...notes)));
    expect(found.systems.map(({ bars, staves }) => [bars.length, staves.length])).toEqual([[2, 1]]);
    const [, top, , bottom] = found.systems[0]!.box;
    expect([top, bottom].map((y) => Math.round(y * 800))).toEqual([195, 205]);
  });
  it('has repeats', () => {
    const end = [dot(545, 197.5), dot(545, 202.5)];
    expect(kinds(...rhythm(200, ...notes, ...end))).toEqual([
      ['none', 'single'],
      ['single', 'repeat-end'],
    ]);
  });
  it('has notes under beams, which are no other staff', () => {
    expect(kinds(...rhythm(200, ...notes, line(350, 211, 420, 211, 2.4)))).toHaveLength(2);
  });
  it('is one system with a staff of five lines that a vertical joins it to', () => {
    const five = [
      ...staff(240),
      ...[300, 550].map((x) => line(x, 240, x, 260)),
      head(100, 250),
      head(400, 245),
    ];
    const found = findInInk(page(...rhythm(200, ...notes), ...five, line(50, 200, 50, 260)));
    expect(found.systems.map(({ bars, staves }) => [bars.length, staves.length])).toEqual([[2, 2]]);
  });
  it.each([
    ['an axis with marks', rhythm(200)],
    ['an axis with spots on it', rhythm(200, ...[80, 150, 220, 350, 450].map((x) => head(x, 200)))],
    ['a row of a table', [...rhythm(200, ...notes), line(50, 190, 550, 190), line(50, 210, 550, 210)]],
    ['a line that no bar line ends', [line(50, 200, 700, 200), ...rhythm(200, ...notes).slice(1)]],
  ])('is not %s', (_, ink) => {
    expect(barsIn(...ink)).toEqual([]);
  });
});

describe('bar lines', () => {
  const music = [head(100, 110), head(300, 115), head(500, 105)];
  it('cut a staff into bars', () => {
    expect(
      kinds(
        ...staff(100),
        ...music,
        line(200, 100, 200, 120),
        line(400, 100, 400, 120),
        line(550, 100, 550, 120),
      ),
    ).toEqual([
      ['none', 'single'],
      ['single', 'single'],
      ['single', 'single'],
    ]);
  });
  it('are no stems: those have a head at their side, and other ends', () => {
    const stem = line(106.5, 100, 106.5, 119, 0.5);
    const short = line(306.5, 98, 306.5, 114, 0.5);
    expect(
      barsIn(...staff(100), head(100, 119), stem, head(300, 114), short, line(550, 100, 550, 120)),
    ).toHaveLength(1);
  });
  it.each([
    ['double', [line(200, 100, 200, 120), line(203, 100, 203, 120)]],
    ['final', [line(200, 100, 200, 120), line(204, 100, 204, 120, 3)]],
    ['repeat-end', [dot(195, 107.5), dot(195, 112.5), line(200, 100, 200, 120), line(204, 100, 204, 120, 3)]],
    [
      'repeat-start',
      [line(200, 100, 200, 120, 3), line(204, 100, 204, 120), dot(209, 107.5), dot(209, 112.5)],
    ],
    [
      'repeat-both',
      [dot(195, 107.5), dot(195, 112.5), line(200, 100, 200, 120, 3), dot(206, 107.5), dot(206, 112.5)],
    ],
    ['single', [dot(195, 107.5), line(200, 100, 200, 120)]],
    // Of two notes at once, with their dots.
    ['single', [...[107.5, 112.5].flatMap((y) => [head(183, y), dot(192.5, y)]), line(200, 100, 200, 120)]],
  ])('are %s as they are drawn', (kind, lines) => {
    expect(kinds(...staff(100), ...music, ...lines, line(550, 100, 550, 120))[0]).toEqual(['none', kind]);
  });
  it('are found where a note that has a stem of its own is drawn on one, and at the end of the staff', () => {
    const run = [head(194, 101), line(194.3, 101, 194.3, 116, 0.5)];
    const last = head(543.6, 117);
    const found = barsIn(
      ...staff(100),
      ...music,
      ...run,
      last,
      line(200, 100, 200, 120),
      line(550, 100, 550, 120),
    );
    expect(found.map(({ right, sure }) => [right, sure < 0.85])).toEqual([
      ['single', true],
      ['single', true],
    ]);
  });
  it("leave no bar in the clef's place, nor in an empty tail", () => {
    const start = [line(90, 100, 90, 120, 3), line(94, 100, 94, 120), dot(99, 107.5), dot(99, 112.5)];
    expect(kinds(...staff(100), ...start, head(150, 110), line(500, 100, 500, 120))).toEqual([
      ['repeat-start', 'single'],
    ]);
  });
  it("leave no bar in the clef's place before a double line, but one where room was left to write in", () => {
    const clef = letter(52, 124, '\ue050', { wide: 13, high: 28 });
    const double = (x: number) => [line(x, 100, x, 120), line(x + 3, 100, x + 3, 120)];
    const after = [head(150, 110), line(250, 100, 250, 120), head(300, 110), line(500, 100, 500, 120)];
    expect(kinds(...staff(100), clef, ...double(70), ...after)).toEqual([
      ['double', 'single'],
      ['single', 'single'],
    ]);
    expect(kinds(...staff(100), clef, ...double(130), ...after)).toHaveLength(3);
  });
  it('repeat by two dots of one glyph, too', () => {
    const rings = [dot(208, 107), dot(208, 113)].flatMap(({ rings }) => rings);
    const point = [207, 114, 207, 114];
    const dots: Ink = { ...letter(208, 114, '\ue043', { wide: 2, high: 8 }), rings: [...rings, point] };
    const start = [line(200, 100, 200, 120, 3), line(204, 100, 204, 120), dots];
    expect(kinds(...staff(100), ...music, ...start, line(550, 100, 550, 120))[0]).toEqual([
      'none',
      'repeat-start',
    ]);
  });
  it('may be missing at the end of a line', () => {
    expect(kinds(...staff(100), head(100, 110), line(200, 100, 200, 120), head(300, 110))).toEqual([
      ['none', 'single'],
      ['single', 'none'],
    ]);
  });
  it('close together are a double one on one staff and on two', () => {
    const two = [line(300, 100, 300, 120), line(301.4, 100, 301.4, 120)];
    expect(kinds(...staff(100), ...music, ...two)[0]).toEqual(['none', 'double']);
    const lower = two.map((one) => ({ ...one, y0: one.y0 + 60, y1: one.y1 + 60 }));
    const joined = [line(50, 100, 50, 180), line(550, 100, 550, 180)];
    const below = music.map((one) => head(one.box[0], one.box[1] + 62.5));
    expect(kinds(...staff(100), ...staff(160), ...joined, ...music, ...below, ...two, ...lower)[0]).toEqual([
      'none',
      'double',
    ]);
  });
});

describe('a music font that nobody has heard of', () => {
  // The outline of a head, as a letter that means nothing.
  const ring = (x: number, y: number) =>
    Array.from({ length: 24 }, (_, i): number[] => {
      const turn = (i * Math.PI) / 12;
      return [x + 3.2 * Math.cos(turn), y + 2.4 * Math.sin(turn - 0.5)];
    }).flat();
  const unheard = (x: number, y: number): Ink => ({
    ...letter(x - 3.2, y + 2.5, 'w', { wide: 6.4, high: 5 }),
    font: 'Quillwort',
    outline: 'w',
    rings: [ring(x, y)],
  });
  const lines = [200, 300, 400, 550].map((x) => line(x, 100, x, 120));
  const xs = [100, 150, 250, 350, 450];
  it('is known by the heads that stand on the lines and in the spaces', () => {
    const heads = xs.map((x, i) => unheard(x, 100 + 2.5 * i));
    expect(barsIn(...staff(100), ...heads, ...lines)).toHaveLength(4);
  });
  it('is one of Type 3, which has no name, where its letters stand in a staff', () => {
    const drawn = xs.map((x): Ink => ({ ...letter(x, 115, 'w'), font: 'Type3' }));
    expect(barsIn(...staff(100), ...drawn, ...lines)).toHaveLength(4);
  });
  it('is none where the same letters stand anywhere', () => {
    const words = xs.map((x, i) => unheard(x, 101.2 + 5 * (i % 3)));
    expect(barsIn(...staff(100), ...words, ...lines)).toEqual([]);
  });
});

describe('systems', () => {
  it('are staves that a vertical connects', () => {
    const joined = findInInk(
      page(...staff(100), ...staff(160), head(100, 110), line(50, 100, 50, 180), line(550, 100, 550, 180)),
    );
    expect(joined.systems.map(({ staves }) => staves.length)).toEqual([2]);
    const apart = findInInk(
      page(
        ...staff(100),
        ...staff(140),
        head(100, 110),
        head(100, 150),
        line(550, 100, 550, 120),
        line(550, 140, 550, 160),
      ),
    );
    expect(apart.systems.map(({ staves }) => staves.length)).toEqual([1, 1]);
  });
  it('may have chords in the place of notes, as large as the staff allows', () => {
    const chords = [0, 1, 2].flatMap((bar) =>
      Array.from('Cmaj7F7B7E7', (text, i) =>
        letter(70 + 160 * bar + 9 * i, 116, text, { wide: 8, high: 11, size: 15 }),
      ),
    );
    const edges = [200, 350, 550].map((x) => line(x, 100, x, 120));
    expect(barsIn(...staff(100), ...chords, ...edges, shape(55, 98, 8, 24, 'clef'))).toHaveLength(3);
  });
  it('are not five rules with words between them', () => {
    const words = [0, 1, 2, 3].flatMap((row) =>
      Array.from('Some words here', (text, i) => letter(60 + i * 6, 108 + row * 10, text)),
    );
    const sides = [50, 200, 350, 550].map((x) => line(x, 100, x, 140));
    const rules = staff(100, 50, 550, 10);
    expect(barsIn(...rules, ...words, ...sides)).toEqual([]);
    const bullet = shape(40, 90, 4, 4, 'bullet');
    expect(barsIn(...rules, ...words, ...sides, bullet)).toEqual([]);
    // As many words where there is more music are of how to play it.
    const heads = [105, 135].flatMap((y) => Array.from({ length: 30 }, (_, i) => head(60 + 16 * i, y)));
    expect(barsIn(...rules, ...words, ...sides, ...heads)).toHaveLength(3);
  });
  it('in two columns are read down the left one first', () => {
    const system = (top: number, x: number) => [
      ...staff(top, x, x + 240),
      head(x + 60, top + 10),
      line(x + 240, top, x + 240, top + 20),
    ];
    const ink = [...system(100, 40), ...system(102, 320), ...system(200, 40), ...system(202, 320)];
    const found = findInInk(page(...ink)).systems.map(({ box }) =>
      [box[0] * 600, box[1] * 800].map(Math.round),
    );
    expect(found).toEqual([
      [40, 100],
      [40, 200],
      [320, 102],
      [320, 202],
    ]);
  });
  it('are five lines: six are a table', () => {
    const six = [0, 1, 2, 3, 4, 5].map((i) => line(50, 100 + i * 5, 550, 100 + i * 5));
    expect(barsIn(...six, head(100, 110), line(550, 100, 550, 125))).toEqual([]);
  });
});

describe('digits of a music font', () => {
  const sign = (x: number, y: number, wide: number, high: number, named: Partial<InkGlyph>): Ink => ({
    ...letter(x, y, '', { wide, high }),
    font: 'Emmentaler-20',
    ...named,
  });
  const music = [...staff(100), head(150, 110), head(400, 105), line(550, 100, 550, 120)];
  it.each([
    ['2/4', ['2'], ['4'], { beats: 2, value: 4 }],
    ['9/8', ['9'], ['8'], { beats: 9, value: 8 }],
    ['12/8', ['1', '2'], ['8'], { beats: 12, value: 8 }],
  ])('are a meter whatever they look like: %s', (_, beats, value, meter) => {
    const row = (digits: readonly string[], y: number) =>
      digits.map((unicode, i) => sign(80 + 7 * i, y, 6.5, 9.9, { unicode }));
    expect(barsIn(...music, ...row(beats, 110), ...row(value, 120))[0]!.meter).toEqual(meter);
  });
  it('are no part of a C, which a stroke cuts', () => {
    const common = sign(80, 115, 8, 10, { name: 'timesig.C44', unicode: 'C' });
    expect(barsIn(...music, common)[0]!.meter).toEqual({ beats: 4, value: 4 });
    expect(barsIn(...music, common, line(84, 103, 84, 117))[0]!.meter).toEqual({ beats: 2, value: 2 });
  });
  it('count bars of rest, in another shape of theirs, too', () => {
    const rest = sign(300, 114, 3, 10, { name: 'rests.M2', unicode: 'r' });
    const count = sign(298, 96, 7, 9.9, { name: 'four.alt', unicode: '4' });
    const bars = barsIn(...music, line(200, 100, 200, 120), rest, count, line(350, 100, 350, 120));
    expect(bars.map(({ restBars }) => restBars)).toEqual([undefined, 4, undefined]);
  });
});

describe('words', () => {
  it('in a box are no part of the chord symbol that stands close beside it', () => {
    const music = [...staff(100), head(100, 110), head(400, 105), line(550, 100, 550, 120)];
    const frame = { ...shape(60, 80, 11, 11, 'frame'), filled: false };
    const chord = [letter(73, 89, 'A'), letter(78.5, 89, 'm')];
    const found = findInInk(page(...music, letter(63, 89, 'B'), frame, ...chord));
    expect(found.signs.map(({ kind, text }) => [kind, text])).toEqual([['section', 'B']]);
  });
  it.each([
    ['1.', [1]],
    ['1, 2', [1, 2]],
    ['1.-3.', [1, 2, 3]],
    ['2.3.', [2, 3]],
    ['Dm7', []],
  ])('under a bracket: %s', (text, numbers) => {
    expect(endingNumbers(text)).toEqual(numbers);
  });
  it.each([
    ['D.C. al Fine', { kind: 'dc', al: 'fine' }],
    ['D. S. al Coda', { kind: 'ds', al: 'coda' }],
    ['Da Capo', { kind: 'dc' }],
    ['To Coda', { kind: 'to-coda' }],
    ['Fine', { kind: 'fine' }],
    ['Dm7', null],
    ['C', null],
    ['refined', null],
  ])('of the form: %s', (text, reading) => {
    expect(readingOf(text)).toEqual(reading);
  });
});

describe('words between two lines', () => {
  const system = (top: number) => [
    ...staff(top),
    ...[100, 300, 500].map((x) => head(x, top + 10)),
    ...[200, 400, 550].map((x) => line(x, top, x, top + 20)),
  ];
  const words = (x: number, y: number, text: string) =>
    Array.from(text, (one, i) => letter(x + i * 5, y, one)).filter(({ unicode }) => unicode !== ' ');
  const over = (...more: Ink[]) =>
    findInInk(page(...system(100), ...system(170), ...words(365, 137, 'To Coda'), ...more)).signs.map(
      ({ kind, bar }) => [kind, bar],
    );
  it("are the upper line's where they stand close under it", () => {
    expect(over()).toEqual([['to-coda', 1]]);
  });
  it("are the lower line's where they stand right over a chord symbol", () => {
    expect(over(...words(370, 151, 'Dm'))).toEqual([['to-coda', 4]]);
  });
});

describe('pages without music', () => {
  const coordinate = fc.double({ min: -50, max: 850, noNaN: true });
  const anyLine = fc
    .tuple(
      coordinate,
      coordinate,
      coordinate,
      coordinate,
      fc.double({ min: 0, max: 20, noNaN: true }),
      fc.constantFrom('x', 'y', ''),
    )
    .map(([x0, y0, x1, y1, thickness, axis]) =>
      line(x0, y0, axis === 'x' ? x0 : x1, axis === 'y' ? y0 : y1, thickness),
    );
  it('random drawings never stop it, and make no bars', () => {
    fc.assert(
      fc.property(
        fc.array(anyLine, { maxLength: 200 }),
        fc.array(fc.tuple(coordinate, coordinate), { maxLength: 40 }),
        (lines, heads) => {
          expect(barsIn(...lines, ...heads.map(([x, y]) => head(x, y)))).toEqual([]);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('text and tables make no bars', () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ minLength: 1, maxLength: 60 }), { maxLength: 50 }),
        fc.integer({ min: 2, max: 12 }),
        (rows, columns) => {
          const letters = rows.flatMap((row, r) =>
            Array.from(row, (text, c) => letter(50 + c * 6, 60 + r * 14, text)),
          );
          const rules = rows.map((_, r) => line(50, 64 + r * 14, 500, 64 + r * 14));
          const sides = Array.from({ length: columns }, (_, c) =>
            line(50 + c * 40, 64, 50 + c * 40, 50 + rows.length * 14),
          );
          expect(barsIn(...letters, ...rules, ...sides)).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });
});
