/** What stands on staves that are drawn by hand. */
import { describe, expect, test } from 'vitest';
import { barlinesOf } from '../../../src/core/find/pixels/barlines.ts';
import { beginLate } from '../../../src/core/find/pixels/starts.ts';
import { withStrokes } from '../../../src/core/find/pixels/strokes.ts';
import { thingsOf } from '../../../src/core/find/pixels/things.ts';
import { goesThrough } from '../../../src/core/find/pixels/through.ts';
import { drawnStaves, UNIT, type Drawn } from './drawn/straight.ts';

const bar = (on: Drawn, x: number) => on.fill(x - 0.1, x + 0.1, 0, 4);

test('a bar line is seen where the lines of the staff were lost before it', () => {
  const drawn = bar(bar(drawnStaves(40), 20), 42.8);
  const lost = { ...drawn, ends: [{ x0: 3 * UNIT, x1: 41 * UNIT }] };
  const places = barlinesOf(lost).barlines.map(({ x }) => Math.round(x / UNIT));
  expect(places).toEqual([20, 43]);
});

// Gould, "Behind Bars", on bar lines: a final one is a thin and a thick stroke.
test('one thin stroke is no final bar line, a thin and a thick one are', () => {
  const thin = drawnStaves(40).fill(30, 30.4, 0, 4);
  expect(withStrokes(thin, 30.2 * UNIT, 'final')).toBe('single');
  const both = drawnStaves(40).fill(30, 30.2, 0, 4).fill(30.5, 31, 0, 4);
  expect(withStrokes(both, 30.5 * UNIT, 'final')).toBe('final');
  expect(withStrokes(thin, 30.2 * UNIT, 'repeat-end')).toBe('repeat-end');
  const close = drawnStaves(40).fill(30, 30.15, 0, 4).fill(30.3, 30.6, 0, 4);
  expect(withStrokes(close, 30.3 * UNIT, 'final')).toBe('final');
});

test('a bar line goes through a staff, the upright of a natural does not', () => {
  const natural = drawnStaves(40).fill(20, 20.2, 0.3, 2.6).fill(20.8, 21, 1.4, 3.7);
  expect(goesThrough(natural, 20.5 * UNIT)).toBe(false);
  expect(goesThrough(bar(drawnStaves(40), 20), 20.2 * UNIT)).toBe(true);
  expect(goesThrough(bar(drawnStaves(40, 2), 20), 20 * UNIT)).toBe(true);
});

test('the meter that the next line begins with is none of the bars', () => {
  const barline = { x: 39 * UNIT, kind: 'single', chance: 1, kindChance: 1 } as const;
  const digit = (on: Drawn, from: number) =>
    on
      .fill(40, 42, from, from + 0.6)
      .fill(40.8, 41.6, from, from + 1.6)
      .fill(40, 42, from + 1, from + 1.6);
  const on = digit(digit(bar(drawnStaves(40), 39), 0), 2.4);
  expect(thingsOf(on, [barline]).map(({ kind }) => kind)).toEqual(['time', 'time']);
});

test('a system that begins further right than one beside it begins late, an indented first one does not', () => {
  const from = (x: number) => ({ ...drawnStaves(40), ends: [{ x0: x * UNIT, x1: 43 * UNIT }] });
  expect(beginLate([8, 3, 3].map(from))).toEqual([false, false, false]);
  expect(beginLate([3, 12, 14, 3.5].map(from))).toEqual([false, true, true, false]);
});

describe('at the start of a line', () => {
  /** Two digits over each other, each as wide above as below. */
  const meter = (on: Drawn, from = 0.05, to = 3.95) =>
    on
      .fill(8, 9.6, from, from + 0.3)
      .fill(8.6, 9, from, to)
      .fill(8, 9.6, to - 0.3, to)
      .fill(8, 9.6, 1.4, 2.6);
  const head = (on: Drawn, x: number, y: number) => on.oval(x, x + 1.3, y - 0.5, y + 0.5);
  const kinds = (on: Drawn) =>
    thingsOf(on, [])
      .sort((a, b) => a.x0 - b.x0)
      .map(({ kind }) => kind);

  test('digits in the staff are the meter, also larger ones', () => {
    expect(kinds(meter(drawnStaves(40)))).toEqual(['time']);
    expect(kinds(meter(drawnStaves(40), -1.5, 5.5))).toEqual(['time']);
  });
  test('what one staff shows to be the meter is no note on another', () => {
    const on = head(head(meter(drawnStaves(40, 2)), 8, 15.5), 8, 17).fill(9.1, 9.3, 14.5, 17);
    expect(kinds(on)).not.toContain('head');
  });
  test('sharps beside each other do not make a note of the meter behind them', () => {
    const sharps = drawnStaves(40)
      .fill(7.4, 7.7, 0, 4)
      .fill(8.5, 8.8, 0, 4)
      .fill(7.2, 9, 1.3, 1.7)
      .fill(7.2, 9, 2.3, 2.7);
    const on = sharps.fill(10.6, 12.2, 0.05, 1.8).fill(10.6, 12.2, 2.2, 3.95).fill(11.2, 11.6, 0, 4);
    expect(kinds(on)).toEqual(['time', 'time']);
  });
  test('a note as high as the staff is none', () => {
    const on = head(drawnStaves(40), 8, 3.4).fill(9.1, 9.3, 0.1, 3.4);
    expect(kinds(on)).toEqual(['head']);
  });
  test('what has a head behind the meter is a note, though its stem be broken', () => {
    const on = head(meter(drawnStaves(40)), 12, 2.5)
      .fill(13.1, 13.3, -0.5, 0.4)
      .fill(13.1, 13.3, 1.2, 2.5);
    expect(kinds(on).slice(0, 2)).toEqual(['time', 'head']);
  });
  test('a frame over the staff makes no signature of the note before it', () => {
    const on = head(meter(drawnStaves(40)), 11.5, 2.5)
      .fill(12.6, 12.8, -0.9, 2.5)
      .fill(14, 15.6, -3, -0.7);
    expect(kinds(on)[1]).toBe('head');
  });
});
