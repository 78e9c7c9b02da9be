import { describe, expect, it, test } from 'vitest';
import type { Card } from '../../../src/core/log/card.ts';
import type { Addition } from '../../../src/store/types.ts';
import { inOrder, moved, putIn, renamed, setsOf, takeOut } from '../../../src/tunes/sets.ts';
import { card, names } from './cards.ts';

const at = (set: string, rank: number) => ({ sets: [{ set, rank }] });

/** The cards after what was written, as the fold has it. */
function after(cards: readonly Card[], additions: readonly Addition[]): Card[] {
  return cards.map((each) =>
    additions
      .filter(({ chart }) => chart === each.chart)
      .flatMap(({ bodies }) => bodies)
      .reduce((now, body) => {
        if (body.type !== 'listed') return now;
        const others = now.sets.filter(({ set }) => set !== body.set);
        const { set, rank } = body;
        return { ...now, sets: rank === null ? others : [...others, { set, rank }] };
      }, each),
  );
}
const orderOf = (cards: readonly Card[], set: string) =>
  names(
    inOrder(
      cards.filter((each) => each.sets.some((one) => one.set === set)),
      set,
    ),
  );

const shelf = [
  card('c', at('Gig', 2)),
  card('a', at('Gig', 0)),
  card('d'),
  card('b', at('Gig', 1)),
  card('away', { archived: true, ...at('Old', 0) }),
];

test('sets are those of tunes in use, by name', () => {
  expect(setsOf([...shelf, card('e', at('Ball 10', 0)), card('f', at('Ball 9', 0))], 'en')).toEqual([
    { name: 'Ball 9', count: 1 },
    { name: 'Ball 10', count: 1 },
    { name: 'Gig', count: 3 },
  ]);
});

describe('a set', () => {
  it('has an order', () => expect(orderOf(shelf, 'Gig')).toEqual(['a', 'b', 'c']));

  it('takes tunes at its end, each once', () => {
    const then = after(shelf, putIn(shelf, [shelf[2]!, shelf[0]!], 'Gig'));
    expect(orderOf(then, 'Gig')).toEqual(['a', 'b', 'c', 'd']);
    expect(putIn(then, then, 'Gig').map(({ chart }) => chart)).toEqual(['away']);
  });

  it('begins with its first tunes in the order they were given', () => {
    expect(orderOf(after(shelf, putIn(shelf, [shelf[3]!, shelf[0]!], 'New')), 'New')).toEqual(['b', 'c']);
  });

  it('lets a tune go', () => {
    expect(orderOf(after(shelf, takeOut(shelf, 'Gig')), 'Gig')).toEqual([]);
    expect(takeOut([shelf[2]!], 'Gig')).toEqual([]);
  });

  it.each([
    ['b', -1, ['b', 'a', 'c']],
    ['b', 1, ['a', 'c', 'b']],
    ['a', -1, ['a', 'b', 'c']],
    ['c', 1, ['a', 'b', 'c']],
  ] as const)('moves %s by %i', (name, by, wanted) => {
    const members = inOrder(
      shelf.filter((each) => each.sets.length > 0 && !each.archived),
      'Gig',
    );
    const one = members.find((each) => each.name === name)!;
    expect(orderOf(after(shelf, moved(members, one, 'Gig', by)), 'Gig')).toEqual(wanted);
  });

  it('moves tunes that a merge has put at one rank', () => {
    const same = [card('x', at('Gig', 3)), card('y', at('Gig', 3)), card('z', at('Gig', 3))];
    const then = after(same, moved(inOrder(same, 'Gig'), same[2]!, 'Gig', -1));
    expect(orderOf(then, 'Gig')).toEqual(['x', 'z', 'y']);
  });

  it('keeps its order under another name, and joins one that is there at its end', () => {
    const fresh = after(shelf, renamed(shelf, 'Gig', 'Feast'));
    expect([orderOf(fresh, 'Feast'), orderOf(fresh, 'Gig')]).toEqual([['a', 'b', 'c'], []]);
    const both = [
      ...shelf,
      card('first', at('Feast', 0)),
      card('two', { sets: [{ set: 'Feast', rank: 7 }] }),
    ];
    const joined = after(both, renamed(both, 'Gig', 'Feast'));
    expect(orderOf(joined, 'Feast')).toEqual(['first', 'two', 'a', 'b', 'c']);
  });
});
