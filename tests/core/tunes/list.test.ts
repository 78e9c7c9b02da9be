import { describe, expect, it, test } from 'vitest';
import { nameOf } from '../../bench/shelf.ts';
import { cardsIn, findTunes, newsOf, plain, sortTunes, standing } from '../../../src/tunes/list.ts';
import { rowsIn } from '../../../src/tunes/window.ts';
import { card, names } from './cards.ts';

describe('what is listed', () => {
  const cards = [
    card('in use'),
    card('away', { archived: true, sets: [{ set: 'Gig', rank: 0 }] }),
    card('gone', { removed: true, archived: true }),
    card('at the gig', { sets: [{ set: 'Gig', rank: 1 }] }),
  ];
  test.each([
    [{ kind: 'all' }, ['in use', 'at the gig']],
    [{ kind: 'archive' }, ['away']],
    [{ kind: 'set', set: 'Gig' }, ['at the gig']],
    [{ kind: 'set', set: 'gig' }, []],
  ] as const)('%j', (place, wanted) => {
    expect(names(cardsIn(cards, place))).toEqual(wanted);
  });
});

describe('the search', () => {
  const cards = [
    card('Old Harbour Wall', { words: 'wedding band\nin F' }),
    card('Äquator'),
    card('Sør Straße', { sets: [{ set: 'Frühling', rank: 0 }] }),
    card('Łódź Café'),
  ];
  it.each([
    ['wall OLD', ['Old Harbour Wall']],
    ['aqua', ['Äquator']],
    ['ÄQUA', ['Äquator']],
    ['sor strasse', ['Sør Straße']],
    ['lodz cafe', ['Łódź Café']],
    ['WEDDING', ['Old Harbour Wall']],
    ['fruh', ['Sør Straße']],
    ['wall cafe', []],
    ['  ', ['Old Harbour Wall', 'Äquator', 'Sør Straße', 'Łódź Café']],
  ])('finds by every word in name, words and sets: %s', (search, wanted) => {
    expect(names(findTunes(cards, search))).toEqual(wanted);
  });
  it('takes a text typed on one system for the same on another', () => {
    expect(plain('e\u0301')).toBe(plain('\u00c9'));
  });
  it('looks at words that have changed', () => {
    const before = card('a', { words: 'low key' });
    expect(findTunes([before], 'low')).toHaveLength(1);
    expect(findTunes([{ ...before, words: 'high key' }], 'low')).toHaveLength(0);
  });
});

describe('the order', () => {
  const rungs = (done: number) => [{ bpm: 60, done, steps: 4 }];
  const cards = [
    card('Zwischenlicht', { addedAt: '2026-02-02T10:00:00.000Z', marks: 'm' }),
    card('Reel 10', { playedAt: '2026-03-01T10:00:00.000Z', marks: 'm', rungs: rungs(1) }),
    card('Äquator', { marks: 'm', finished: true, rungs: rungs(4) }),
    card('Reel 9', { playedAt: '2026-03-04T10:00:00.000Z', marks: 'm', rungs: rungs(3) }),
    card('boat', { addedAt: '2026-02-03T10:00:00.000Z' }),
  ];
  it.each([
    ['played', ['Reel 9', 'Reel 10', 'Äquator', 'boat', 'Zwischenlicht']],
    ['name', ['Äquator', 'boat', 'Reel 9', 'Reel 10', 'Zwischenlicht']],
    ['standing', ['Äquator', 'Reel 9', 'Reel 10', 'Zwischenlicht', 'boat']],
    ['added', ['boat', 'Zwischenlicht', 'Äquator', 'Reel 9', 'Reel 10']],
  ] as const)('%s', (by, wanted) => {
    expect(names(sortTunes(cards, by, 'de'))).toEqual(wanted);
    expect(names(sortTunes(cards.toReversed(), by, 'de'))).toEqual(wanted);
  });
  it('says how far a tune has come', () => {
    const far = cards.map(standing);
    expect(far).toEqual([1, 1.25, 2, 1.75, 0]);
  });
});

describe('the rows that are drawn', () => {
  it.each([
    ['at the head', 2000, 100, -300, 900, 0, 12],
    ['in the middle', 2000, 100, 100_000, 900, 992, 1016],
    ['at the foot', 2000, 100, 199_400, 900, 1988, 2000],
    ['of a short list', 5, 100, -300, 900, 0, 5],
    ['of none', 0, 100, -300, 900, 0, 0],
    ['scrolled beyond the end, as a browser does when a list gets short', 3, 100, 5000, 900, 3, 3],
  ])('%s', (_, count, height, above, seen, from, to) => {
    expect(rowsIn(count, height, above, seen)).toEqual({ from, to });
  });
  it('hold everything that is seen, wherever it is', () => {
    for (let above = -500; above < 21_000; above += 37) {
      const { from, to } = rowsIn(200, 98, above, 850);
      const first = Math.max(0, Math.floor(above / 98));
      const last = Math.min(200, Math.ceil((above + 850) / 98));
      if (first >= 200) continue;
      expect(from).toBeLessThanOrEqual(first);
      expect(to).toBeGreaterThanOrEqual(last);
      expect(to - from).toBeLessThan(32);
    }
  });
});

test('a made-up shelf has no name twice', () => {
  expect(new Set(Array.from({ length: 2000 }, (_, n) => nameOf(n))).size).toBe(2000);
});

it('what saves have brought is tunes that were not here, and passes of any tune', () => {
  const before = [card('here', { passes: 3 }), card('gone', { passes: 2, removed: true })];
  const after = [card('here', { passes: 7 }), card('gone', { passes: 2 }), card('new', { passes: 5 })];
  expect(newsOf(before, after)).toEqual({ tunes: 2, passes: 9 });
  expect(newsOf(after, after)).toEqual({ tunes: 0, passes: 0 });
});
