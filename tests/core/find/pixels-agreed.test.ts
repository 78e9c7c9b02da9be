import { describe, expect, test } from 'vitest';
import { agreed } from '../../../src/core/find/pixels/agreed.ts';
import type { FoundSign } from '../../../src/core/find/types.ts';

type Seen = Pick<FoundSign, 'kind' | 'al' | 'text' | 'bar' | 'sure'>;
const sign = (kind: Seen['kind'], bar: number, sure: number, al?: 'fine' | 'coda'): Seen => ({
  kind,
  bar,
  sure,
  ...(al && { al }),
});
/** No part of the tune begins or ends at any bar, or one may at each. */
const within = { begins: () => false, ends: () => false };
const between = { begins: () => true, ends: () => true };
const said = (...signs: Seen[]) => agreed(signs, within).map(({ kind }) => kind);

test.each([
  ['a faint Fine that a D.C. al Fine asks for', sign('fine', 7, 0.85), sign('dc', 15, 0.95, 'fine')],
  ['a faint D.S. behind its segno', sign('ds', 9, 0.85, 'fine'), sign('segno', 2, 0.99)],
  ['a faint coda behind its words', sign('coda', 20, 0.88), sign('to-coda', 9, 0.92)],
  ['faint words before the jump that asks for them', sign('to-coda', 5, 0.85), sign('ds', 9, 0.95, 'coda')],
])('%s is said', (_, faint, sure) => {
  expect(said(faint, sure)).toContain(faint.kind);
  expect(said(faint)).toEqual([]);
});

test.each([
  ['stands behind it', sign('fine', 15, 0.85), sign('dc', 7, 0.95, 'fine')],
  ['is not asked for', sign('fine', 7, 0.85), sign('dc', 15, 0.95, 'coda')],
  ['is asked for by nothing that is sure', sign('fine', 7, 0.85), sign('dc', 15, 0.85, 'fine')],
  ['is too faint', sign('fine', 7, 0.75), sign('dc', 15, 0.95, 'fine')],
])('a faint Fine is not said where it %s', (_, faint, other) => {
  expect(said(faint, other)).not.toContain('fine');
});

test('a Fine that no jump asks for has to be surer', () => {
  expect(said(sign('fine', 7, 0.95))).toEqual([]);
  expect(said(sign('fine', 7, 0.995))).toEqual(['fine']);
});

test('the letter of a section asks for nothing', () => {
  expect(said(sign('section', 0, 0.92), sign('section', 8, 0.8))).toEqual(['section']);
});

test('a later letter is said behind the one before it only', () => {
  const section = (text: string, bar: number) => ({ ...sign('section', bar, 0.97), text });
  expect(agreed([section('A', 0), section('D', 8)], within).map(({ text }) => text)).toEqual(['A']);
  const row = [section('A', 0), section('B', 8), section('C', 16), section('C', 24)];
  expect(agreed(row, within)).toEqual(row);
});

test('a sure jump is said with the faint Fine that it asks for, though neither would be alone', () => {
  const [fine, jump] = [sign('fine', 7, 0.88), sign('dc', 15, 0.97, 'fine')];
  expect(said(jump)).toEqual([]);
  expect(said(fine, jump)).toEqual(['fine', 'dc']);
});

describe('the only sign that a jump can mean', () => {
  const jump = sign('dc', 15, 0.97, 'fine');
  const [here, there] = [sign('fine', 7, 0.6), sign('fine', 3, 0.6)];
  const kinds = (parts: typeof within, ...signs: Seen[]) => agreed(signs, parts).map(({ bar }) => bar);
  test('is said where a part of the tune ends', () => {
    expect(kinds(between, here, jump)).toEqual([7, 15]);
  });
  test('is not where none ends, where another may be meant, and without the jump', () => {
    expect(kinds(within, here, jump)).toEqual([]);
    expect(kinds(between, here, there, jump)).toEqual([]);
    expect(kinds(between, here)).toEqual([]);
  });
  test('is a jump at the end of a part, where no other jump is seen', () => {
    const [segno, back, other] = [sign('segno', 4, 0.99), sign('ds', 19, 0.6, 'coda'), sign('dc', 11, 0.6)];
    expect(kinds(between, segno, back)).toEqual([4, 19]);
    expect(kinds(within, segno, back)).toEqual([4]);
    expect(kinds(between, segno, back, { ...other, kind: 'ds' })).toEqual([4]);
  });
  test('is a segno or coda where a part begins', () => {
    const [segno, back] = [sign('segno', 4, 0.7), sign('ds', 19, 0.99, 'coda')];
    expect(kinds(between, segno, back)).toEqual([4, 19]);
    expect(kinds(within, segno, back)).toEqual([]);
  });
});

test('a word of a jump seen by itself is no second one at its bar', () => {
  const signs = [sign('segno', 4, 0.99), sign('ds', 19, 0.99, 'coda'), sign('ds', 19, 0.85)];
  expect(agreed(signs, within).map(({ kind, al = '' }) => kind + al)).toEqual(['segno', 'dscoda']);
});

test('a jump that nothing else belongs to is said at the end of a part only', () => {
  const jump = sign('dc', 10, 0.995);
  expect(agreed([jump], between)).toEqual([jump]);
  expect(agreed([jump], within)).toEqual([]);
});

test('a letter is as sure as it is among those that may stand there', () => {
  const letters = { A: 0, B: 0.8, C: 0, D: 0.19 };
  const b = { kind: 'section', text: 'B', bar: 8, sure: 0.8, letters } as const;
  expect(agreed([b], within).map(({ text }) => text)).toEqual(['B']);
  const c = { kind: 'section', text: 'C', bar: 4, sure: 0.95 } as const;
  const first = { ...c, text: 'B', bar: 0 } as const;
  expect(agreed([first, c, b], within).map(({ text }) => text)).toEqual(['B', 'C']);
});
