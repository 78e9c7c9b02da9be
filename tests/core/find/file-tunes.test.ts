import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { briefIn, keepFinding, pageIn } from '../../../src/core/find/kept.ts';
import { briefOf, pagesOfTune, tunesIn } from '../../../src/core/find/tunes.ts';
import type { FoundPage, FoundSign } from '../../../src/core/find/types.ts';

/** A page of lines: so many bars each; a line that ends a tune is negative, a title stands before it. */
function pageOf(page: number, lines: readonly (number | string)[]): FoundPage {
  const systems: FoundPage['systems'][number][] = [];
  const signs: FoundSign[] = [];
  let bars = 0;
  for (const line of lines) {
    const top = 0.1 + 0.08 * systems.length;
    if (typeof line === 'string') {
      signs.push({
        kind: 'title',
        page,
        box: [0.3, top - 0.04, 0.7, top - 0.02],
        text: line,
        bar: bars,
        sure: 0.95,
      });
      continue;
    }
    const count = Math.abs(line);
    const isTitled = signs.at(-1)?.kind === 'title';
    systems.push({
      box: [0.1, top, 0.9, top + 0.03],
      staves: [{ box: [0.1, top, 0.9, top + 0.03], lines: [0, 1, 2, 3, 4].map((k) => top + 0.0075 * k) }],
      bars: Array.from({ length: count }, (_, i) => ({
        box: [0.1 + (0.8 * i) / count, top, 0.1 + (0.8 * (i + 1)) / count, top + 0.03],
        left: i === 0 ? 'none' : 'single',
        ...(i === 0 && isTitled && { meter: { beats: 4, value: 4 } }),
        right: line < 0 && i === count - 1 ? 'final' : 'single',
        sure: 0.99,
      })),
      sure: 0.99,
    });
    bars += count;
    signs.push({ kind: 'fine', page, box: [0.8, top - 0.01, 0.9, top], bar: bars - 1, sure: 0.9 });
  }
  // A title with nothing under it is none.
  const stand = signs.filter(({ bar }) => bar < bars);
  return { page, width: 595, height: 842, systems, signs: stand, by: 'ink' };
}
const said = (...pages: FoundPage[]) =>
  tunesIn(pages.map(briefOf)).map(({ title, from, to, bars }) => [
    title,
    from.page,
    from.line,
    to.page,
    to.line,
    bars,
  ]);

describe('the tunes of a file', () => {
  test('end with a final bar line and begin at the head of a page or under a title', () => {
    expect(
      said(pageOf(0, ['One', 4, 4, -4]), pageOf(1, ['Two', 4, 4]), pageOf(2, [4, -3, 'Three', 5, -5])),
    ).toEqual([
      ['One', 0, 0, 0, 2, 12],
      ['Two', 1, 0, 2, 1, 15],
      ['Three', 2, 2, 2, 3, 10],
    ]);
  });
  test('go on after a final bar line inside a page without a title: a coda', () => {
    expect(said(pageOf(0, ['One', 4, -4, 2]))).toEqual([['One', 0, 0, 0, 2, 10]]);
  });
  test('do not go on over a page without music', () => {
    expect(said(pageOf(0, [4, 4]), pageOf(1, []), pageOf(2, [4]))).toHaveLength(2);
  });
  test('come out the same in whatever order pages were read', () => {
    const pages = [pageOf(0, ['One', 4, -4]), pageOf(1, [4, 4]), pageOf(2, [-4]), pageOf(3, ['Four', -2])];
    const wanted = said(...pages);
    fc.assert(
      fc.property(fc.shuffledSubarray(pages, { minLength: 4 }), (some) => {
        expect(said(...some)).toEqual(wanted);
      }),
    );
  });
  test('every line is in exactly one tune, and its signs stay with its bars', () => {
    const line = fc.oneof(
      fc.integer({ min: 1, max: 6 }),
      fc.integer({ min: -6, max: -1 }),
      fc.constantFrom('A', 'B'),
    );
    fc.assert(
      fc.property(fc.array(fc.array(line, { maxLength: 8 }), { maxLength: 6 }), (lists) => {
        const pages = lists.map((list, i) => pageOf(i, list));
        const tunes = tunesIn(pages.map(briefOf));
        const parts = tunes.flatMap((tune) => pagesOfTune(pages, tune));
        const lines = (list: readonly FoundPage[]) =>
          list.reduce((sum, { systems }) => sum + systems.length, 0);
        expect(lines(parts)).toBe(lines(pages));
        for (const { systems, signs } of parts) {
          const bars = systems.flatMap((system) => system.bars.map((bar) => ({ bar, system })));
          for (const { kind, bar, box } of signs)
            expect(bars[bar]!.system.box[1]).toBeCloseTo(box[3] + (kind === 'title' ? 0.02 : 0));
        }
        const bars = tunes.reduce((sum, tune) => sum + tune.bars, 0);
        expect(bars).toBe(
          pages.flatMap(({ systems }) => systems).reduce((sum, system) => sum + system.bars.length, 0),
        );
      }),
    );
  });
});

describe('a finding that is kept', () => {
  const page = pageOf(3, ['One', 4, -4]);
  test('is read as it was', () => {
    const kept: unknown = structuredClone(keepFinding(page));
    expect(pageIn(kept)).toEqual(page);
    expect(briefIn(kept)).toEqual(briefOf(page));
  });
  test('of another finder, or spoilt, is none', () => {
    for (const kept of [
      null,
      {},
      { ...keepFinding(page), finder: 0 },
      { ...keepFinding(page), text: '{"page":' },
      { ...keepFinding(page), text: JSON.stringify({ ...page, width: -1 }) },
    ])
      expect(pageIn(kept)).toBeNull();
  });
});
