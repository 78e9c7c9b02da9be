import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseMarks } from '../../../src/core/chart/schema.ts';
import { isMissing, keptOf, sumOf, unplayed, unwantedIn } from '../../../src/tunes/copies.ts';
import { editionsOf, marksOn } from '../../../src/tunes/editions.ts';
import { card, document } from './cards.ts';

const [JAN, FEB, MAR] = ['2026-01-05', '2026-02-05', '2026-03-05'].map((day) => `${day}T12:00:00.000Z`);

describe('a new edition', () => {
  const older = card('older', { document: 'h1', marks: 'm', addedAt: JAN! });
  const newer = card('newer', { document: 'h2', addedAt: MAR! });
  const pairs = (...args: Parameters<typeof editionsOf>) =>
    editionsOf(...args).map((each) => [each.older.chart, each.newer.chart]);
  const named = [
    document('h1', { names: ['wall.pdf'] }),
    document('h2', { names: ['wall.pdf', 'other.pdf'] }),
  ];

  it('is another file under the same name', () => {
    expect(pairs([newer, older], named)).toEqual([['older', 'newer']]);
  });
  it('or at the same address, whatever page was asked for', () => {
    const at = (hash: string, url: string) => document(hash, { urls: [url] });
    const documents = [at('h1', 'https://a.org/w.pdf?v=1#page=2'), at('h2', 'https://a.org/w.pdf?v=1')];
    expect(pairs([older, newer], documents)).toEqual([['older', 'newer']]);
    expect(pairs([older, newer], [documents[0]!, at('h2', 'https://a.org/w.pdf?v=2')])).toEqual([]);
  });
  it('is of the newest before it', () => {
    const between = card('between', {
      document: 'h3',
      marks: 'm',
      addedAt: FEB!,
      carried: { of: 'older', what: 'marks' },
    });
    const documents = [...named, document('h3', { names: ['other.pdf', 'wall.pdf'] })];
    expect(pairs([older, newer, between], documents)).toEqual([['between', 'newer']]);
  });
  it.each([
    ['it was decided already', older, { ...newer, carried: { of: 'older', what: 'nothing' as const } }],
    ['the older one is not boxed', { ...older, marks: null }, newer],
    ['the older one was removed', { ...older, removed: true }, newer],
    ['the newer one was removed', older, { ...newer, removed: true }],
    ['both are parts of one file', older, { ...newer, document: 'h1' }],
  ])('is not offered when %s', (_, one, other) => {
    expect(pairs([one, other], named)).toEqual([]);
  });
  it.each(['scan.pdf', 'Scan_2024-03-01.pdf', 'download (1).pdf', 'IMG_0001.pdf', '12.pdf'])(
    'is not guessed from a name that says nothing: %s',
    (name) => {
      expect(
        pairs([older, newer], [document('h1', { names: [name] }), document('h2', { names: [name] })]),
      ).toEqual([]);
    },
  );

  it('gets only marks of pages that it has', () => {
    const marks = parseMarks(JSON.parse(readFileSync('sample-pdfs/two-pages.marks.json', 'utf8')));
    expect(marksOn(marks, 2)).toBe(marks);
    const one = marksOn(marks, 1);
    expect(one.systems.length).toBeGreaterThan(0);
    expect(one.systems.length).toBeLessThan(marks.systems.length);
    expect(one.systems.every(({ page }) => page === 0)).toBe(true);
    expect(parseMarks(JSON.parse(JSON.stringify(one)))).toEqual(one);
    // A twin whose first is on the page that is gone stands for itself.
    const [system] = one.systems;
    const [bar, ...others] = system!.bars;
    const gone = marks.systems.at(-1)!.bars[0]!.id;
    const odd = {
      ...marks,
      systems: [{ ...system!, bars: [{ ...bar!, as: gone }, ...others] }, marks.systems.at(-1)!],
    };
    expect(marksOn(odd, 1).systems[0]!.bars[0]).not.toHaveProperty('as');
  });
});

describe('copies of files', () => {
  const now = Date.parse('2026-06-01T00:00:00.000Z');
  const documents = ['played', 'new', 'old', 'dropped', 'removed', 'shared'].map((hash) =>
    document(hash, { kept: hash !== 'dropped' }),
  );
  const of = (hash: string, change = {}) => card(hash, { document: hash, addedAt: JAN!, ...change });
  const cards = [
    of('played', { playedAt: '2026-05-30T12:00:00.000Z' }),
    of('new', { addedAt: '2026-05-30T12:00:00.000Z' }),
    of('old', { playedAt: '2026-02-20T12:00:00.000Z' }),
    of('dropped'),
    of('removed', { removed: true, playedAt: '2026-05-30T12:00:00.000Z' }),
    of('shared'),
    card('part', { document: 'shared', addedAt: JAN!, playedAt: '2026-05-30T12:00:00.000Z' }),
  ];
  it('not played for long are those none of whose charts was', () => {
    expect(unplayed(cards, documents, now).map(({ hash }) => hash)).toEqual(['old', 'removed']);
    expect(unplayed(cards, documents, now, 3650).map(({ hash }) => hash)).toEqual(['removed']);
  });
  it('are wanted by no chart where all of theirs were removed', () =>
    expect([...unwantedIn([...cards, of('played', { removed: true })])]).toEqual(['removed']));
  it('are summed', () => expect(sumOf(keptOf(documents))).toEqual({ count: 5, bytes: 500 }));
  it('that were dropped are missing, and nothing is said before it is known', () => {
    const known = new Map(documents.map((each) => [each.hash, each]));
    expect(cards.filter((each) => isMissing(each, known)).map(({ chart }) => chart)).toEqual(['dropped']);
    expect(cards.some((each) => isMissing(each, null))).toBe(false);
  });
});
