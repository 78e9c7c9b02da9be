/** Staves whose bar lines stand elsewhere, signs in pieces, smaller staves, words at their bar. */
import { describe, expect, it } from 'vitest';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { endingBarOf } from '../../../src/core/find/engraved/signs.ts';
import { smuflName } from '../../../src/core/find/engraved/smufl.ts';
import type { Ink } from '../../../src/core/find/types.ts';
import { head, letter, line, shape, staff } from './drawn/ink.ts';

const pageOf = (...ink: Ink[]) => findInInk({ width: 600, height: 800, ink });
const ends = (...ink: Ink[]) =>
  pageOf(...ink).systems.flatMap(({ bars }) => bars.map(({ box }) => Math.round(box[2] * 600)));

describe('two staves', () => {
  const joined = [line(50, 100, 50, 180), line(550, 100, 550, 180)];
  const both = (xs: number[]) => xs.flatMap((x) => [head(x, 110), head(x, 170)]);
  const music = [...staff(100), ...staff(160), ...joined, ...both([100, 250, 420])];
  it('with bar lines of their own: the upper one says where the bars are, and they are in doubt', () => {
    const ink = [
      ...music,
      ...[200, 350].map((x) => line(x, 100, x, 120)),
      ...[170, 330].map((x) => line(x, 120, x, 180)),
    ];
    expect(ends(...ink)).toEqual([200, 350, 550]);
    expect(pageOf(...ink).systems[0]!.bars.every(({ sure }) => sure < 0.9)).toBe(true);
  });
  it('with a tail behind the last line of the upper one end where their own last lines stand', () => {
    const last = [line(500, 100, 500, 120), line(548, 120, 548, 180)];
    const ink = [...staff(100), ...staff(160), line(50, 100, 50, 180), ...both([100]), ...last];
    expect(ends(...ink, head(300, 110), head(510, 170))).toEqual([500]);
  });
  it('of which only one has a line there have no bar line there', () => {
    expect(ends(...music, line(200, 100, 200, 120))).toEqual([550]);
  });
  it('of which one is smaller and shorter, unconnected: an ossia, whose bars are none', () => {
    const ossia = [...staff(70, 200, 400, 3), line(400, 70, 400, 82), head(250, 76)];
    const main = [
      ...staff(100),
      head(100, 110),
      head(300, 110),
      line(400, 100, 400, 120),
      line(550, 100, 550, 120),
    ];
    expect(ends(...ossia, ...main, head(450, 110))).toEqual([400, 550]);
  });
});

describe('thick strokes', () => {
  it('are thick beside thin ones: all lines of a small staff are thick for its spaces', () => {
    const small = staff(100, 50, 300, 2).map((one) => ({ ...one, thickness: 0.4 }));
    const things = [100, 200].map((x) => shape(x, 103, 2.6, 2, 'head'));
    const found = pageOf(
      ...small,
      ...things,
      line(150, 100, 150, 108, 0.8),
      line(297, 100, 297, 108, 0.8),
      line(299, 100, 299, 108, 1.6),
    );
    expect(found.systems[0]!.bars.map(({ right }) => right)).toEqual(['single', 'final']);
  });
});

describe('signs', () => {
  const music = [
    ...staff(200),
    head(100, 210),
    head(400, 210),
    line(300, 200, 300, 220),
    line(550, 200, 550, 220),
  ];
  const signsOf = (...ink: Ink[]) => pageOf(...music, ...ink).signs.map(({ kind, bar }) => [kind, bar]);
  const s = shape(305, 170, 8, 14, 's');
  const stroke = line(303, 183, 315, 171);
  const dots = [shape(302, 175, 1.6, 1.6, 'dot'), shape(314, 178, 1.6, 1.6, 'dot')];
  it('an S, a leaning stroke and two dots are a segno; without the dots they are none', () => {
    expect(signsOf(s, stroke, ...dots)).toEqual([['segno', 1]]);
    expect(signsOf(s, stroke)).toEqual([]);
  });
  it('a ring with a cross in its middle is a coda; a cross alone is none', () => {
    const cross = [line(300, 180, 314, 180), line(307, 173, 307, 187)];
    expect(signsOf(...cross, shape(302.5, 175, 9, 10, 'ring'))).toEqual([['coda', 1]]);
    expect(signsOf(...cross)).toEqual([]);
  });
  it.each([
    ['\u{e047}', 'segno'],
    ['\u{e048}', 'coda'],
    ['\u{e084}', 'timeSig4'],
    ['A', ''],
    ['', ''],
  ])('have SMuFL names by their code points', (text, name) => {
    expect(smuflName(text)).toBe(name);
  });
});

describe('words of the form', () => {
  const bars = [
    { index: 0, x0: 50, x1: 200, last: [150, 153] as const },
    { index: 1, x0: 200, x1: 280, last: [220, 223] as const },
    { index: 2, x0: 280, x1: 400, last: [370, 373] as const },
  ];
  it.each([
    ['end at the bar line', [150, 200], 0],
    ['start at the bar line, and end near another', [200, 276], 0],
    ['stand in the middle over the last note', [205, 241], 1],
    ['start over the last note', [370, 430], 2],
    ['stand anywhere over a bar', [290, 330], 2],
    ['stand across the bar line', [180, 240], 0],
  ])('%s', (_, [from, to], bar) => {
    expect(endingBarOf([from!, 50, to!, 60], bars, 5)).toBe(bar);
  });
  it('that ask for a jump belong to the bar that ends a part, and others to the bar before the line they cross', () => {
    const letters = (x: number, y: number, text: string): Ink[] =>
      Array.from(text, (unicode, i) => letter(x + i * 5, y, unicode));
    const music = [...staff(100), head(100, 110), head(320, 110), head(500, 110)];
    const lines = [...[200, 400, 546].map((x) => line(x, 100, x, 120)), line(550, 100, 550, 120)];
    const jump = (text: string) =>
      pageOf(...music, ...lines, ...letters(370, 80, text)).signs.map(({ kind, al, bar }) => [kind, al, bar]);
    expect(jump('D.C.al\u{fb01}ne')).toEqual([['dc', 'fine', 2]]);
    expect(jump('To Coda')).toEqual([['to-coda', undefined, 1]]);
    // The sign may stand for the word, as SMuFL's "coda" (U+E048).
    expect(jump('To \u{e048}')).toEqual([['to-coda', undefined, 1]]);
    expect(jump('D.S. al \u{e048}')).toEqual([['ds', 'coda', 2]]);
    expect(jump('Bb \u{e048}')).toEqual([['coda', undefined, 2]]);
    // Nor is it a title, though no other words stand over the line; and a chord symbol is none.
    expect(jump('Fm7')).toEqual([]);
  });
});
