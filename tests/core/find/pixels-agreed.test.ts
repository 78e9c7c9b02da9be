import { expect, test } from 'vitest';
import { agreed } from '../../../src/core/find/pixels/agreed.ts';
import type { FoundSign } from '../../../src/core/find/types.ts';

type Seen = Pick<FoundSign, 'kind' | 'al' | 'text' | 'bar' | 'sure'>;
const sign = (kind: Seen['kind'], bar: number, sure: number, al?: 'fine' | 'coda'): Seen => ({
  kind,
  bar,
  sure,
  ...(al && { al }),
});
const said = (...signs: Seen[]) => agreed(signs).map(({ kind }) => kind);

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
  expect(agreed([section('A', 0), section('D', 8)]).map(({ text }) => text)).toEqual(['A']);
  const row = [section('A', 0), section('B', 8), section('C', 16), section('C', 24)];
  expect(agreed(row)).toEqual(row);
});
