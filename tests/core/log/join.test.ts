import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Marks, RouteBar } from '../../../src/core/chart/types.ts';
import { cardOf, type Card } from '../../../src/core/log/card.ts';
import type { EventBody, LogEvent } from '../../../src/core/log/events.ts';
import { fold, type Folded } from '../../../src/core/log/fold.ts';
import {
  goesInto,
  holdsSameLines,
  joining,
  leftApart,
  livesIn,
  mayBeJoined,
  withoutJoined,
} from '../../../src/core/log/join.ts';
import { mergeEvents } from '../../../src/core/log/merge.ts';
import { parseEvent } from '../../../src/core/log/schema.ts';
import { planOf, where, Writer } from './make.ts';

const DOCUMENT = 'd'.repeat(64);
const WIDTH = 0.2;

/** Bars on one page, `per` a line; the ids are the machine's own. `shift`: drawn beside by so much of a bar. */
function marksOf(name: string, lines: readonly number[], shift = 0, page = 0): Marks {
  return {
    version: 1,
    meter: { beats: 4, value: 4 },
    unit: null,
    systems: lines.map((line) => ({
      id: `${name}-l${line}`,
      page,
      top: 0.1 + 0.1 * line,
      bottom: 0.14 + 0.1 * line,
      bars: [0, 1, 2, 3].map((i) => ({
        id: `${name}-${line}-${i}`,
        x0: 0.1 + WIDTH * (i + shift),
        x1: 0.1 + WIDTH * (i + 1 + shift),
      })),
    })),
  };
}

/** A plan whose bars stand where those of the marks do. */
function plan(marks: Marks) {
  const bars = marks.systems.flatMap(({ page, top, bottom, bars }) =>
    bars.map(({ id, x0, x1 }): Pick<RouteBar, 'bar' | 'boxes'> => {
      const box = [x0, top, x1, bottom] as const;
      return { bar: id, boxes: [{ page, box, reach: box }] };
    }),
  );
  const made = planOf(
    bars.map(({ bar }) => bar),
    { streak: 1 },
  );
  return { ...made, bars: made.bars.map((bar, i) => ({ ...bar, ...bars[i]! })) };
}

/** The log of one chart on one machine. */
class Chart extends Writer {
  constructor(
    readonly key: string,
    machine: string,
    seen: readonly LogEvent[] = [],
  ) {
    super(`${machine}-${key}`, `${machine}-${key}`, seen);
  }
  put(...bodies: readonly EventBody[]): this {
    for (const body of bodies) this.write(body, { chart: this.key });
    return this;
  }
  /** Puts the chart on the shelf, boxed and planned, and plays so many steps of its ladder. */
  begin(marks: Marks, steps: number): this {
    this.put(
      { type: 'opened', document: DOCUMENT, name: this.key },
      { type: 'marks', parent: null, marks },
      { type: 'plan', marks: 'm', plan: plan(marks) },
    );
    return this.play(steps);
  }
  play(steps: number): this {
    for (let i = 0; i < steps; i++) this.pass({}, this.key);
    return this;
  }
  override pass(change = {}, chart = this.key): LogEvent {
    const event = { ...super.pass(change), chart };
    this.events[this.events.length - 1] = event;
    return event;
  }
}

const offersOf = (cards: readonly Card[]) => [...mayBeJoined(cards)];
const doneIn = (state: Folded) => state.rungs.map(({ done }) => done);
const cardsOf = (...charts: readonly Chart[]): Card[] => charts.map(({ state }) => cardOf(state));
/** Joins `goes` into `stays`, as the tunes page writes it; events go through JSON and the schema. */
function join(stays: Chart, goes: Chart): void {
  const bodies = joining(stays.state, goes.state);
  stays.put(...bodies.stays);
  goes.put(...bodies.goes);
  for (const event of [...stays.events, ...goes.events].filter(({ type }) => type === 'joined'))
    expect(parseEvent(JSON.parse(JSON.stringify(event)))).toEqual(event);
}

describe('charts that hold the same lines', () => {
  test.each([
    ['boxed apart, alike', marksOf('b', [0, 1]), true],
    ['a little beside: 0.9 of a bar in common', marksOf('b', [0, 1], 0.05), true],
    ['half a bar beside', marksOf('b', [0, 1], 0.5), false],
    ['one of the two lines', marksOf('b', [1]), true],
    ['a neighbour', marksOf('b', [2, 3]), false],
    ['a chart that has more than twice the bars', marksOf('b', [0, 1, 2, 3, 4]), false],
    ['the same place on another page', marksOf('b', [0, 1], 0, 1), false],
    [
      'on pages that lie otherwise',
      { ...marksOf('b', [0, 1]), version: 3 as const, turn: 90 as const },
      false,
    ],
    [
      'on a page that lies otherwise',
      { ...marksOf('b', [0, 1]), version: 4 as const, turns: { 0: 90 as const } },
      false,
    ],
    [
      'beside a page that lies otherwise',
      { ...marksOf('b', [0, 1]), version: 4 as const, turns: { 1: 90 as const } },
      true,
    ],
    ['without bars', marksOf('b', []), false],
  ])('%s', (_, other, same) => {
    expect(holdsSameLines(marksOf('a', [0, 1]), other)).toBe(same);
    expect(holdsSameLines(other, marksOf('a', [0, 1]))).toBe(same);
  });
});

describe('what may be joined', () => {
  const a = new Chart('a', 'm').begin(marksOf('a', [0, 1]), 2);
  const b = new Chart('b', 'n').begin(marksOf('b', [0, 1]), 5);
  const names = (cards: readonly Card[]) => offersOf(cards).map(({ stays, goes }) => [stays.name, goes.name]);

  test('are charts of one file on the same page; the one played more stays', () => {
    expect(names(cardsOf(a, b))).toEqual([['b', 'a']]);
    expect(names(cardsOf(b, a))).toEqual([['b', 'a']]);
  });
  test.each<[string, (card: Card) => Card]>([
    ['of another file', (card) => ({ ...card, document: 'e'.repeat(64) })],
    ['on another page', (card) => ({ ...card, pages: [1, 1] })],
    ['not boxed', (card) => ({ ...card, pages: null })],
    ['removed', (card) => ({ ...card, removed: true })],
  ])('not one that is %s', (_, change) => {
    const [one, other] = cardsOf(a, b);
    expect(offersOf([one!, change(other!)])).toEqual([]);
    expect(offersOf([change(one!), other!])).toEqual([]);
  });
  test('with nothing played, the one that came first stays', () => {
    const early = new Chart('z', 'm').put({ type: 'opened', document: DOCUMENT, name: 'z' });
    const late = new Chart('y', 'n');
    late.clock = 60;
    late.put({ type: 'opened', document: DOCUMENT, name: 'y' });
    early.put({ type: 'marks', parent: null, marks: marksOf('z', [0]) });
    late.put({ type: 'marks', parent: null, marks: marksOf('y', [0]) });
    expect(names(cardsOf(late, early))).toEqual([['z', 'y']]);
  });
});

describe('joining', () => {
  const two = () =>
    [
      new Chart('a', 'm').begin(marksOf('a', [0, 1]), 2),
      new Chart('b', 'n').begin(marksOf('b', [0, 1], 0.03), 5),
    ] as const;

  test('the marks and history of one stay, steps done on the other count; nothing is asked again', () => {
    const [a, b] = two();
    a.put({ type: 'noted', words: 'low key' }, { type: 'listed', set: 'Pier', rank: 3 });
    expect(doneIn(a.state)).toEqual([2, 0, 0]);
    expect(doneIn(b.state)).toEqual([5, 0, 0]);
    // The one played less is to stay here, so that what counts is seen.
    const marks = a.state.marks;
    join(a, b);
    expect(doneIn(a.state)).toEqual([5, 0, 0]);
    expect(where(a.state)).toBe(where(b.state));
    expect(a.state).toMatchObject({ marks, passes: 2, words: 'low key' });
    const [, gone] = withoutJoined(cardsOf(a, b));
    expect(gone).toMatchObject({ chart: 'b', removed: true });
    expect(goesInto(gone!)).toBe('a');
    expect(offersOf(withoutJoined(cardsOf(a, b)))).toEqual([]);
  });

  test('sets and words of the one that goes are kept', () => {
    const [a, b] = two();
    b.put({ type: 'noted', words: 'capo 2' }, { type: 'listed', set: 'Pier', rank: 3 });
    a.put({ type: 'noted', words: 'low key' }, { type: 'archived', away: true });
    join(a, b);
    const now = a.state;
    expect(now).toMatchObject({
      words: 'low key\ncapo 2',
      archived: false,
      sets: [{ set: 'Pier', rank: 3 }],
    });
    join(a, b);
    expect(a.state).toMatchObject({ words: now.words, sets: now.sets });
  });

  test('taken back both are as they were', () => {
    const [a, b] = two();
    const before = [a.state, b.state].map(({ rungs, step, marks }) => ({ rungs, step, marks }));
    const counts = [a.events.length, b.events.length] as const;
    join(a, b);
    for (const [chart, count] of [
      [a, counts[0]],
      [b, counts[1]],
    ] as const)
      for (const { id } of chart.events.slice(count).toReversed()) chart.put({ type: 'undone', event: id });
    expect([a.state, b.state].map(({ rungs, step, marks }) => ({ rungs, step, marks }))).toEqual(before);
    expect(withoutJoined(cardsOf(a, b)).some(({ removed }) => removed)).toBe(false);
    expect(offersOf(cardsOf(a, b))).toHaveLength(1);
  });

  test('what the other machine plays on is offered again, counted once more, and then no more', () => {
    const [a, b] = two();
    const elsewhere = new Chart('b', 'late', b.events);
    join(a, b);
    elsewhere.clock = 5000;
    elsewhere.play(3);
    const met = new Chart('b', 'met', mergeEvents(b.events, elsewhere.events));
    const [again] = offersOf(withoutJoined(cardsOf(a, met)));
    expect(again).toMatchObject({ again: true, stays: { chart: 'a' }, goes: { chart: 'b' } });
    const left = new Chart('a', 'left', a.events).put(leftApart(again!));
    expect(offersOf(withoutJoined(cardsOf(left, met)))).toEqual([]);
    expect(doneIn(left.state)).toEqual([5, 0, 0]);
    join(a, met);
    expect(doneIn(a.state)).toEqual([8, 0, 0]);
    expect(offersOf(withoutJoined(cardsOf(a, met)))).toEqual([]);
    // A second merge of the old save brings nothing new.
    const twice = new Chart('b', 'twice', mergeEvents(met.events, elsewhere.events, b.events));
    expect(offersOf(withoutJoined(cardsOf(a, twice)))).toEqual([]);
  });

  test('joined the other way round on two machines, one of the two stays in sight', () => {
    const [a, b] = two();
    const [c, d] = [new Chart('a', 'x', a.events), new Chart('b', 'x', b.events)];
    join(a, b);
    join(d, c);
    const cards = cardsOf(
      new Chart('a', 'y', mergeEvents(a.events, c.events)),
      new Chart('b', 'y', mergeEvents(b.events, d.events)),
    );
    expect(withoutJoined(cards).filter(({ removed }) => !removed).length).toBeGreaterThan(0);
    expect(livesIn('a', (key) => ({ a: 'b', b: 'a' })[key] ?? null)).toBe('a');
    expect(livesIn('b', (key) => ({ a: 'b', b: 'a' })[key] ?? null)).toBe('a');
    expect(livesIn('c', (key) => ({ a: 'b', b: 'a', c: 'b' })[key] ?? null)).toBe('a');
  });

  test('a chart joined into one that is not here stays in sight', () => {
    const [a, b] = two();
    join(a, b);
    expect(withoutJoined(cardsOf(b)).map(({ removed }) => removed)).toEqual([false]);
  });

  test('left apart they are not asked about again, on either machine', () => {
    const [a, b] = two();
    const [offer] = offersOf(cardsOf(a, b));
    b.put(leftApart(offer!));
    expect(offersOf(cardsOf(a, b))).toEqual([]);
    expect(withoutJoined(cardsOf(a, b)).some(({ removed }) => removed)).toBe(false);
  });

  test('a third chart joined into one that had taken in another: nothing more is asked', () => {
    const [a, b] = two();
    const c = new Chart('c', 'o').begin(marksOf('c', [0, 1]), 1);
    join(a, b);
    join(c, a);
    expect(doneIn(c.state)).toEqual([5, 0, 0]);
    const cards = withoutJoined(cardsOf(a, b, c));
    expect(cards.map(({ removed }) => removed)).toEqual([true, true, false]);
    expect(offersOf(cards)).toEqual([]);
  });

  test('whatever was played on either, what was done on one or the other is done in the end, in any order', () => {
    fc.assert(
      fc.property(fc.nat(12), fc.nat(12), fc.nat(4), fc.boolean(), (here, there, later, twice) => {
        const a = new Chart('a', 'm').begin(marksOf('a', [0, 1]), here);
        const b = new Chart('b', 'n').begin(marksOf('b', [0, 1], 0.02), there);
        join(a, b);
        if (twice) join(a, b);
        a.clock = 9000;
        a.play(later);
        expect(doneIn(a.state).reduce((sum, n) => sum + n, 0)).toBe(Math.max(here, there) + later);
        // Folded from any order and twice, it is the same.
        expect(fold(mergeEvents(a.events, a.events.toReversed()))).toEqual(a.state);
        // A new plan of the same bars keeps it.
        a.put({ type: 'plan', marks: 'm', plan: plan(marksOf('a', [0, 1])) });
        expect(doneIn(a.state).reduce((sum, n) => sum + n, 0)).toBe(Math.max(here, there) + later);
      }),
      { numRuns: 60 },
    );
  });

  test('what was done before there is a plan counts under the first', () => {
    const b = new Chart('b', 'n').begin(marksOf('b', [0, 1]), 4);
    const a = new Chart('a', 'm').put({ type: 'opened', document: DOCUMENT, name: 'a' });
    join(a, b);
    a.put({ type: 'plan', marks: 'm', plan: plan(marksOf('a', [0, 1])) });
    expect(doneIn(a.state)).toEqual([4, 0, 0]);
  });
});
