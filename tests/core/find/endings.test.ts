/** Brackets over endings, on one line and over lines. */
import { describe, expect, it } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import type { Ink } from '../../../src/core/find/types.ts';
import { letter, line, shape } from './drawn/ink.ts';

/** Every size of sign looks otherwise. */
const sign = (x: number, y: number, wide: number, high: number) =>
  shape(x, y, wide, high, `${wide} ${high}`, [x, y, x + wide, y, x + wide / 2, y + high]);
const sized = (x: number, y: number, unicode: string, size: number) =>
  letter(x, y, unicode, { size, wide: 0.6 * size, high: 0.7 * size });
const head = (x: number, y: number) => sign(x, y - 2.5, 6.5, 5);
/** A line of four bars, each with a note; the last two repeat. */
const music = (top: number): Ink[] => [
  ...[0, 1, 2, 3, 4].map((i) => line(50, top + i * 5, 550, top + i * 5)),
  ...[175, 300, 425, 550].flatMap((x) => [line(x, top, x, top + 20), head(x - 60, top + 10)]),
  ...[425, 550].flatMap((x) => [sign(x - 4, top + 6.5, 2, 2), sign(x - 4, top + 11.5, 2, 2)]),
];
/** A bracket, and under its hook a number that is an outline of no known letter. */
const bracket = (x0: number, x1: number, top: number, isNumbered = true): Ink[] => [
  line(x0, top - 20, x1, top - 20),
  line(x0, top - 20, x0, top - 12),
  ...(isNumbered ? [sign(x0 + 3, top - 18, 3, 6)] : []),
];
const endings = (...ink: Ink[]) =>
  wholeChart([findInInk({ width: 600, height: 800, ink })]).marks.systems.map(({ bars }) =>
    bars.map(({ ending }) => ending?.join() ?? ''),
  );

describe('brackets whose numbers are drawn as outlines', () => {
  it('count on from bracket to bracket', () => {
    const ink = [...music(100), ...bracket(300, 424, 100), ...bracket(426, 550, 100)];
    expect(endings(...ink)).toEqual([['', '', '1', '2']]);
  });
  it('count on over the end of a line, and anew after bars without one', () => {
    const ink = [
      ...[...music(100), ...bracket(426, 550, 100)],
      ...[...music(200), ...bracket(50, 174, 200), ...bracket(426, 550, 200)],
    ];
    expect(endings(...ink)).toEqual([
      ['', '', '', '1'],
      ['2', '', '', '1'],
    ]);
  });
  it('are less sure, so that the player is asked', () => {
    const ink = [...music(100), ...bracket(300, 424, 100)];
    const [, , bar] = findInInk({ width: 600, height: 800, ink }).systems[0]!.bars;
    expect(bar!.sure).toBeLessThan(0.9);
  });
  it('are none without anything under their hook, and none from inside a bar or to there', () => {
    expect(endings(...music(100), ...bracket(300, 424, 100, false))).toEqual([['', '', '', '']]);
    for (const [from, to] of [
      [330, 424],
      [300, 390],
    ] as const)
      expect(endings(...music(100), ...bracket(from, to, 100))).toEqual([['', '', '', '']]);
  });
});

describe('numbers under a bracket', () => {
  const under = (...ink: Ink[]) => endings(...music(100), ...bracket(300, 424, 100, false), ...ink)[0]![2];
  it('are read though a chord symbol stands over them', () => {
    expect(under(sized(304, 89, '2', 9), sized(302, 88, 'A', 8), sized(307, 88, 'm', 8))).toBe('2');
  });
  it('are none of a chord symbol', () => {
    expect(under(sized(304, 89, 'A', 9), sized(309.5, 86, '7', 6))).toBe('');
  });
});

describe('brackets far over their line', () => {
  const high = (x0: number, x1: number, y: number, number: string): Ink[] => [
    line(x0, y, x1, y),
    line(x0, y, x0, y + 8),
    letter(x0 + 3, y + 9, number),
  ];
  it('stand over high notes and their chord symbols', () => {
    const ink = [...music(200), ...high(300, 424, 142, '1'), ...high(426, 550, 142, '2')];
    expect(endings(...ink)).toEqual([['', '', '1', '2']]);
  });
  it('are none where another line of music is as near', () => {
    const ink = [...music(100), ...music(200), ...high(300, 424, 122, '1')];
    expect(endings(...ink)).toEqual([['', '', '', ''], ['', '', '', '']]); // prettier-ignore
  });
});
