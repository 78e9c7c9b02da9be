/** What brackets over a page mean, by the bar lines of repeats (Gould, "Behind Bars", on first and second endings). */
import { describe, expect, test } from 'vitest';
import type { BarParts } from '../../../src/core/find/bars/bars.ts';
import type { Unread } from '../../../src/core/find/pixels/endings.ts';
import { inOrder } from '../../../src/core/find/pixels/order.ts';
import type { BarLineKind } from '../../../src/core/find/types.ts';

/** How much speaks for 1, 2, 3 and for 1 with 2. */
type Odds = readonly [number, number, number, number];
const ONE: Odds = [0.9, 0.05, 0.04, 0.01];
const TWO: Odds = [0.05, 0.9, 0.04, 0.01];
const THREE: Odds = [0.02, 0.06, 0.9, 0.02];
const NOT_READ: Odds = [1, 1, 1, 1];

const KINDS: Record<string, BarLineKind> = {
  '|': 'single',
  '||': 'double',
  ':|': 'repeat-end',
  '|:': 'repeat-start',
};

/**
 * Bars of a line: a bar's end, and before it the letter of the bracket over it. "|: | a| a:| b||" has four bars, of
 * which the second and third lie under bracket a.
 */
function lineOf(written: string, odds: Record<string, Odds>) {
  const brackets: Record<string, Unread> = {};
  let left: BarLineKind = 'none';
  const bars: BarParts[] = [];
  written.split(' ').forEach((part, i) => {
    const [, letter = '', line = ''] = /^(\w?)(.*)$/.exec(part)!;
    const right = KINDS[line]!;
    if (i === 0 && right === 'repeat-start') {
      left = right;
      return;
    }
    const [x0, x1] = [100 * i, 100 * (i + 1)];
    const bracket = letter === '' ? null : (brackets[letter] ??= bracketAt(x0, x1, odds[letter]!));
    bars.push({ x0, x1, left, right, bracket, things: [], sure: 1 });
    left = right;
  });
  return { bars, brackets: Object.values(brackets) };
}
const bracketAt = (x0: number, x1: number, odds: Odds): Unread => ({
  ...{ x0, x1, y: 0, numbers: [], sure: 1, odds },
  hookLeft: true,
  hookRight: false,
});

/** The ending of every bar; "+" where a bracket goes on from the line before. */
function endings(lines: readonly string[], odds: Record<string, Odds>): string[] {
  const parts = lines.map((line) => lineOf(line, odds));
  const brackets = inOrder(parts);
  return parts.map(({ bars }, i) =>
    bars
      .map(({ x0 }) => brackets[i]!.find((one) => one.x0 <= x0 && x0 < one.x1))
      .map((one) => (one === undefined ? '-' : one.numbers.join() || '+'))
      .join(' '),
  );
}

describe('numbers follow from the order', () => {
  test.each([
    ['as read', ONE, TWO],
    ['though both look like the next one', TWO, THREE],
    ['though neither was read', NOT_READ, NOT_READ],
  ])('%s', (_, a, b) => {
    expect(endings(['|: | | a| a:| b| b||'], { a, b })).toEqual(['- - 1 1 2 2']);
  });

  test('a third behind a second, over the end of a line', () => {
    const odds = { a: ONE, b: ONE, c: TWO };
    expect(endings(['|: | | a:| b:|', 'c| c|| |'], odds)).toEqual(['- - 1 2', '3 3 -']);
  });

  test('a second whose first was not seen keeps its number', () => {
    expect(endings(['|: | | :| b| b||'], { b: TWO })).toEqual(['- - - 2 2']);
  });
});

describe('where an ending ends', () => {
  test('the first goes on to the sign of the repeat, also on the next line, and is less sure there', () => {
    const line = ['|: | | a|', ':| b| b||'];
    expect(endings(line, { a: ONE, b: TWO })).toEqual(['- - 1', '+ 2 2']);
    const [first] = inOrder(line.map((one) => lineOf(one, { a: ONE, b: TWO })));
    expect(first![0]!.sure).toBeLessThan(0.9);
  });

  test('at the sign of a repeat, though a line seems to go on', () => {
    expect(endings(['|: | | a:| a| a||'], { a: ONE })).toEqual(['- - 1 2 2']);
  });

  test('a bracket in two pieces is one where no repeat ends between them', () => {
    expect(endings(['|: | a| b:| c| |'], { a: ONE, b: THREE, c: TWO })).toEqual(['- 1 1 2 -']);
  });

  test('a line over a bar of a tune without a repeat behind it is none', () => {
    expect(endings(['| a| | | |', '| | | ||'], { a: ONE })).toEqual(['- - - - -', '- - - -']);
  });
});
