import fc from 'fast-check';
import { expect, test } from 'vitest';
import { edit, fromProposal, type Edit } from '../../../src/core/chart/edit.ts';
import { barsOf, Refused } from '../../../src/core/chart/edit-shape.ts';
import { nextPlace } from '../../../src/core/chart/edit-systems.ts';
import { begin, record, redo, undo } from '../../../src/core/chart/history.ts';
import { problemsOf } from '../../../src/core/chart/problems.ts';
import type { Marks } from '../../../src/core/chart/types.ts';
import { counter, frozen } from './charts.ts';

const PAGES = 3;
/** Places a little outside the page too. */
const place = fc.integer({ min: -2000, max: 12_000 }).map((n) => n / 10_000);
const pick = fc.nat({ max: 999 });

type Draw = (marks: Marks) => Edit | null;
const system = (marks: Marks, n: number) => marks.systems[n % (marks.systems.length || 1)];
const bar = (marks: Marks, n: number) => barsOf(marks)[n % (barsOf(marks).length || 1)];

/** Any edit of whatever the marks then hold. */
const draws: fc.Arbitrary<Draw> = fc.oneof(
  fc.tuple(fc.nat({ max: PAGES - 1 }), place, place, place, place, fc.integer({ min: -1, max: 40 })).map(
    ([page, a, b, c, d, bars]) =>
      () =>
        ({ type: 'add-system', page, box: [a, b, c, d], bars }) as const,
  ),
  fc.tuple(pick, fc.integer({ min: 0, max: 12 })).map(([n, bars]): Draw => (marks) => {
    const at = system(marks, n);
    return at ? { type: 'set-count', system: at.id, bars } : null;
  }),
  fc.tuple(pick, place, fc.boolean()).map(([n, top, guess]): Draw => (marks) => {
    const at = system(marks, n);
    const to = at && (guess ? nextPlace(marks, at.id, PAGES) : { page: at.page, top });
    return at && to ? { type: 'copy-system', system: at.id, place: to } : null;
  }),
  fc.tuple(pick, place, place, fc.boolean()).map(([n, a, b, move]): Draw => (marks) => {
    const at = system(marks, n);
    if (!at) return null;
    return move
      ? { type: 'move-system', system: at.id, dx: a - 0.5, dy: b - 0.5 }
      : { type: 'resize-system', system: at.id, top: a, bottom: at.bottom };
  }),
  fc.tuple(pick, pick, place, fc.boolean()).map(([n, m, x, move]): Draw => (marks) => {
    const at = system(marks, n);
    if (!at) return null;
    const line = m % (at.bars.length + 1);
    return move
      ? { type: 'move-line', system: at.id, line, x }
      : { type: 'remove-line', system: at.id, line };
  }),
  fc.tuple(pick, fc.option(place)).map(([n, x]): Draw => (marks) => {
    const at = bar(marks, n);
    return at ? { type: 'add-line', bar: at.id, x } : null;
  }),
  fc.tuple(pick, pick).map(([n, m]): Draw => (marks) => {
    const at = bar(marks, n);
    return at ? { type: 'as', bars: [at.id], from: bar(marks, m)!.id } : null;
  }),
  fc.tuple(pick, fc.constantFrom('A', 'B', null)).map(([n, section]): Draw => (marks) => {
    const at = bar(marks, n);
    return at ? { type: 'set-bars', bars: [at.id], change: { section } } : null;
  }),
  pick.map((n): Draw => (marks) => {
    const at = n % 5 === 0 ? system(marks, n) : undefined;
    return at ? { type: 'remove-system', system: at.id } : null;
  }),
);

/** The marks after each edit that was made. */
function play(edits: readonly Draw[]): Marks[] {
  const newId = counter();
  const all = [frozen(fromProposal([]))];
  for (const draw of edits) {
    const command = draw(all.at(-1)!);
    if (!command) continue;
    try {
      all.push(frozen(edit(all.at(-1)!, command, newId)));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
    }
  }
  return all;
}

test('whatever is edited, marks fit: ordered, within the page, nothing over anything, twins in place', () => {
  let most = 0;
  fc.assert(
    fc.property(fc.array(draws, { maxLength: 60 }), (edits) => {
      const marks = play(edits).at(-1)!;
      most = Math.max(most, barsOf(marks).length);
      expect(problemsOf(marks, PAGES)).toEqual([]);
    }),
    { numRuns: 300 },
  );
  // The property would also hold for edits that never come to anything.
  expect(most).toBeGreaterThan(30);
});

test('undo gives back every value there was, redo brings each one again', () => {
  fc.assert(
    fc.property(fc.array(draws, { maxLength: 40 }), (edits) => {
      const all = play(edits).filter((marks, i, list) => i === 0 || marks !== list[i - 1]);
      let history = all.slice(1).reduce(record, begin(all[0]!));
      for (const marks of all.slice(0, -1).reverse()) {
        history = undo(history);
        expect(history.present).toBe(marks);
      }
      expect(undo(history)).toBe(history);
      for (const marks of all.slice(1)) {
        history = redo(history);
        expect(history.present).toBe(marks);
      }
      expect(redo(history)).toBe(history);
    }),
  );
});

test('a new edit after undo forgets what was taken back', () => {
  const history = record(undo(record(record(begin(1), 2), 3)), 4);
  expect(history).toEqual({ past: [1, 2], present: 4, future: [] });
});
