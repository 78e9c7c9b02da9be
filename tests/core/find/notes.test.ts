/** Fonts that call their signs by names of their own, and have whole notes in one letter. */
import { describe, expect, it, test } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { wholeNote } from '../../../src/core/find/engraved/notes.ts';
import { Names } from '../../../src/core/find/engraved/things.ts';
import { boxOf } from '../../../src/core/find/rings.ts';
import type { Ink, InkGlyph } from '../../../src/core/find/types.ts';
import { line, staff } from './drawn/ink.ts';

const SPACE = 5;
type Ring = readonly number[];

/** An oval that leans, as heads do, so much of a head's size. */
const oval = (x: number, y: number, size = 1): number[] =>
  Array.from({ length: 32 }, (_, i) => {
    const turn = (i / 32) * 2 * Math.PI;
    const [a, b] = [0.68 * SPACE * size * Math.cos(turn), 0.46 * SPACE * size * Math.sin(turn)];
    const lean = -0.35;
    return [x + a * Math.cos(lean) - b * Math.sin(lean), y + a * Math.sin(lean) + b * Math.cos(lean)];
  }).flat();

/** A head with a stem up in one ring, and a flag at its tip. */
function noteUp(x: number, y: number, flag = false): Ring {
  const head = oval(x, y);
  const [side, tip] = [x + 0.63 * SPACE, y - 3.5 * SPACE];
  const points = Array.from({ length: head.length / 2 }, (_, i) => [head[2 * i]!, head[2 * i + 1]!] as const);
  // The ring goes on around the stem from where the head is furthest right.
  const right = points.reduce((best, [px], i) => (px > points[best]![0] ? i : best), 0);
  const around = [...points.slice(right), ...points.slice(0, right)];
  const flagged: [number, number][] = flag
    ? [
        [side + 0.9 * SPACE, tip + 1.6 * SPACE],
        [side + 0.7 * SPACE, tip + 1.7 * SPACE],
        [side, tip + 0.8 * SPACE],
      ]
    : [];
  return [
    ...around,
    [side - 0.5, y - 0.3 * SPACE] as const,
    [side - 0.5, tip] as const,
    [side, tip] as const,
    ...flagged,
    [side, y] as const,
  ].flat();
}

const named = (x: number, rings: readonly Ring[], name: string): InkGlyph => ({
  kind: 'glyph',
  box: boxOf(rings),
  x,
  y: 0,
  advance: 0,
  size: 20,
  angle: 0,
  font: 'Quay-Music',
  unicode: 'q',
  name,
  outline: name,
  rings,
  light: 0,
});

describe('a note in one piece', () => {
  const read = (rings: readonly Ring[]) => wholeNote(rings, boxOf(rings), SPACE);

  test('its head, which fills a quarter', () => {
    const found = read([noteUp(100, 110)])!;
    expect(found).toMatchObject({ name: 'noteheadBlack', length: 1 });
    expect((found.box[1] + found.box[3]) / 2).toBeCloseTo(110, 0);
  });

  test('hollow it fills a half', () => {
    expect(read([noteUp(100, 110), oval(100, 110, 0.6)])).toMatchObject({ name: 'noteheadHalf', length: 2 });
  });

  test('with a flag its length is not said', () => {
    expect(read([noteUp(100, 110, true)])).toMatchObject({ name: 'noteheadBlack', length: null });
  });

  it.each([
    ['a head without a stem', [oval(100, 110)]],
    ['a stem', [[100, 90, 101, 90, 101, 110, 100, 110]]],
    ['a box', [[100, 90, 107, 90, 107, 110, 100, 110]]],
    ['a tall oval', [oval(100, 110).map((value, i) => (i % 2 === 0 ? value : 110 + 3.4 * (value - 110)))]],
  ])('%s is none', (_, rings) => {
    expect(read(rings)).toBeNull();
  });
});

test('a name that no table has says nothing: the looks do', () => {
  const names = new Names();
  expect(names.of(named(100, [oval(100, 110)], 'quayhead'), SPACE)).toBe('noteheadBlack');
  expect(names.of(named(100, [[100, 90, 107, 90, 107, 110, 100, 110]], 'quaybox'), SPACE)).toBe('');
  // Fonts whose signs lie on the keys of a typewriter call them by those.
  expect(names.of(named(100, [oval(100, 110)], 'oe'), SPACE)).toBe('noteheadBlack');
  expect(names.of(named(100, [oval(100, 110)], 'w'), SPACE)).toBe('noteheadBlack');
  expect(names.of({ ...named(100, [], 'uniE0A3'), unicode: '\ue0a3' }, SPACE)).toBe('noteheadHalf');
  expect(names.of(named(100, [oval(100, 110)], 'scripts.stopped'), SPACE)).toBe('scripts.stopped');
  expect(names.of({ ...named(100, [oval(100, 110)], 'p'), font: 'Emmentaler-20' }, SPACE)).toBe('p');
});

describe('on a page', () => {
  const page = (ink: readonly Ink[]) =>
    wholeChart([findInInk({ width: 600, height: 800, ink: [...staff(100), ...ink] })]).pages[0]!.systems[0]!
      .bars;
  const notes = (...at: number[]) => at.map((x) => named(x, [noteUp(x, 110)], 'quaynote'));
  const bars = [300, 550].map((x) => line(x, 100, x, 120));

  test('a stem beside such a head is no bar line', () => {
    // The head stands on the first line, and its stem ends at the last one.
    const high: Ink[] = [named(200, [oval(200, 100)], 'quayhead'), line(197, 100.5, 197, 120)];
    expect(page([...notes(100, 150, 350, 400), ...high, ...bars])).toHaveLength(2);
  });

  test('what is played before a repeat at the start of a line is a bar', () => {
    const repeat: Ink[] = [line(140, 100, 140, 120, 2.4), line(144, 100, 144, 120)];
    const dots = [107.5, 112.5].map((y): Ink => ({
      kind: 'shape',
      box: [147, y - 1, 149, y + 1],
      filled: true,
      outline: 'dot',
      rings: [[147, y - 1, 149, y - 1, 149, y + 1, 147, y + 1]],
      light: 0,
    }));
    expect(page([...notes(110, 200, 350), ...repeat, ...dots, ...bars]).map(({ right }) => right)).toEqual([
      'repeat-start',
      'single',
      'single',
    ]);
  });

  test('a bar with a sign that may be a rest is not called short', () => {
    const digit = (y: number) => named(70, [[70, y, 77, y, 77, y + 10, 70, y + 10]], 'timeSig4');
    const meter = [digit(100), digit(110)];
    const three = notes(100, 150, 200);
    const rest = named(240, [[240, 106, 244, 106, 242, 114]], 'quayrest');
    const full = notes(320, 370, 420, 470);
    expect(page([...meter, ...three, ...full, ...bars])[0]!.pickup).toBe(true);
    expect(page([...meter, ...three, rest, ...full, ...bars])[0]!.pickup).toBeUndefined();
  });

  test('letters of a font that are lines make no bars differ', () => {
    const flat = (x: number, wide: number, y: number) => [
      x,
      y - 0.2,
      x + wide,
      y - 0.2,
      x + wide,
      y + 0.2,
      x,
      y + 0.2,
    ];
    const five = (x: number) =>
      named(
        x,
        [100, 105, 110, 115, 120].map((y) => flat(x, 90, y)),
        'quaystaff',
      );
    const stroke = named(300, [[299.7, 100, 300.3, 100, 300.3, 120, 299.7, 120]], 'quayline');
    const alike = [...notes(100, 150), ...notes(350, 400)];
    const { twins } = wholeChart([
      findInInk({
        width: 600,
        height: 800,
        ink: [...staff(100), ...alike, five(110), five(230), stroke, ...bars],
      }),
    ]);
    expect(twins).toEqual([[0, 1]]);
  });
});
