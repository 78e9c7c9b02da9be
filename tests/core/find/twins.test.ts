/** Bars of an engraved page that differ in one sign are no twins, wherever the sign stands. */
import { describe, expect, it } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import type { Ink } from '../../../src/core/find/types.ts';
import { head, letter, line, shape, staff } from './drawn/ink.ts';

const TOP = 100;
/** Where the two bars begin, and their music in them. */
const BARS = [50, 300];
const melody = (x: number): Ink[] => [
  head(x + 60, TOP + 10),
  head(x + 120, TOP + 5),
  head(x + 180, TOP + 15),
];

/** A word, a letter every five points. */
const word = (x: number, y: number, text: string): Ink[] =>
  Array.from(text, (one, i) => letter(x + i * 5, y, one));

const areTwins = (first: readonly Ink[], second: readonly Ink[], ...more: Ink[]) => {
  const ends = [line(300, TOP, 300, TOP + 20), line(550, TOP, 550, TOP + 20)];
  const ink = [...staff(TOP), ...ends, ...first, ...second, ...more];
  const found = findInInk({ width: 600, height: 800, ink });
  expect(found.systems.flatMap(({ bars }) => bars)).toHaveLength(2);
  return wholeChart([found]).twins.length === 1;
};

describe('two bars of one melody', () => {
  const at = (make: (x: number) => readonly Ink[]) => BARS.map((x) => [...melody(x), ...make(x)]);

  it('are twins', () => {
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    expect(areTwins(first!, second!)).toBe(true);
  });

  it.each([
    ['over the staff', TOP - 8],
    ['on the lowest lines of the staff', TOP + 19],
  ])('are none with other chord symbols %s', (_, y) => {
    const [first, second] = BARS.map((x, i) => [...melody(x), ...word(x + 80, y, i === 0 ? 'Em' : 'Dm')]);
    expect(areTwins(first!, second!)).toBe(false);
  });

  it('are none where a title stands right over the number of a chord symbol', () => {
    const raised = letter(BARS[1]! + 70, TOP - 12, '7', { size: 6, wide: 3, high: 4 });
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    const title = Array.from('Tune', (one, i) =>
      letter(340 + i * 7, TOP - 20, one, { size: 12, wide: 7, high: 10 }),
    );
    expect(areTwins(first!, [...second!, raised], ...title)).toBe(false);
  });

  it('are none where a flat stands before the number of a chord symbol', () => {
    const flat = (x: number) => shape(x + 66, TOP - 15, 4, 7, 'flat');
    const [first, second] = at((x) => [letter(x + 60, TOP - 8, 'F'), flat(x)]);
    expect(areTwins(first!, [...second!, letter(BARS[1]! + 71, TOP - 8, '7')])).toBe(false);
  });

  it('are none where a chord symbol touches a note of another height', () => {
    const [first, second] = BARS.map((x, i) => [
      ...melody(x),
      head(x + 220, TOP - (i === 0 ? 5 : 7.5)),
      ...word(x + 212, TOP - 6, 'D'),
    ]);
    expect(areTwins(first!, second!)).toBe(false);
  });

  it('are twins though the box of a section touches one of their chord symbols', () => {
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    const x = BARS[1]! + 47;
    const frame = { ...shape(x, TOP - 17, 11, 11, 'frame'), filled: false };
    expect(areTwins(first!, second!, letter(x + 2, TOP - 8, 'B'), frame)).toBe(true);
  });

  it('are twins though a beam of the line above hangs over one of them', () => {
    const above = [...staff(TOP - 60), head(100, TOP - 50), line(550, TOP - 60, 550, TOP - 40)];
    const beam = line(350, TOP - 34, 370, TOP - 34, 2.5);
    const ends = BARS.map((x) => line(x + 250, TOP, x + 250, TOP + 20));
    const ink = [...above, beam, ...staff(TOP), ...BARS.flatMap(melody), ...ends];
    expect(wholeChart([findInInk({ width: 600, height: 800, ink })]).twins).toEqual([[1, 2]]);
  });

  it('are twins though their beams are drawn level, and as short as a rest', () => {
    const stems = (x: number, off: number) =>
      [60.2, 66.2].map((to) => line(x + to + off, TOP + 10, x + to + off, TOP + 27));
    const short = (x: number): Ink[] => [head(x + 60, TOP + 10), head(x + 66, TOP + 10), ...stems(x, 0)];
    const beam = (x: number, wide: number) => shape(x + 60, TOP + 25.5, wide, 2.5, `beam ${wide}`);
    const [first, second] = BARS.map((x, i) => [...short(x), beam(x, 6.3 + i / 10)]);
    expect(areTwins(first!, second!)).toBe(true);
  });
});
