import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Marks } from '../../../src/core/chart/types.ts';
import { titleOf, wholeChart, type WholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { openInk } from '../../../src/pdf/node.ts';

const folder = resolve(import.meta.dirname, '../../../sample-pdfs');

/** What LilyPond engraved it from; the page on its side is the waltz. */
const source = (name: string) =>
  readFileSync(resolve(folder, 'source', `${name === 'rotated' ? 'waltz' : name}.ly`), 'utf8');

async function find(name: string): Promise<WholeChart> {
  const file = await openInk(new Uint8Array(readFileSync(resolve(folder, `${name}.pdf`))));
  const pages = [];
  for (let i = 0; i < file.pages; i++) pages.push(findInInk(await file.ink(i), i));
  await file.destroy();
  return wholeChart(pages);
}

/** A thousandth of the page: half a point on A4. */
const CLOSE = 3;

// The marks come from LilyPond's SVG of the same engraving, not from what is tested here.
describe.each(['first', 'aaba', 'endings', 'waltz', 'two-pages', 'rotated'])('%s.pdf', (name) => {
  const marks = JSON.parse(readFileSync(resolve(folder, `${name}.marks.json`), 'utf8')) as Marks;
  let chart: WholeChart;
  beforeAll(async () => {
    chart = await find(name);
  });

  it('has its systems and bars where the engraver drew them', () => {
    const systems = chart.marks.systems;
    expect(systems.map(({ page, bars }) => [page, bars.length])).toEqual(
      marks.systems.map(({ page, bars }) => [page, bars.length]),
    );
    for (const [s, system] of marks.systems.entries()) {
      expect(systems[s]!.top).toBeCloseTo(system.top, CLOSE);
      expect(systems[s]!.bottom).toBeCloseTo(system.bottom, CLOSE);
      for (const [b, bar] of system.bars.entries()) {
        // The glyphs of a repeat stand within half a percent of the middle that the marks give.
        expect(Math.abs(systems[s]!.bars[b]!.x0 - bar.x0)).toBeLessThan(0.005);
        expect(Math.abs(systems[s]!.bars[b]!.x1 - bar.x1)).toBeLessThan(0.005);
      }
    }
  });

  it('has its meter, endings, repeats, ties and the beats of its pickup', () => {
    const said = (of: Marks) =>
      of.systems.flatMap(({ bars }) =>
        bars.map(({ ending, repeatEnd, pickup, tied, meter }) => ({
          ending,
          repeatEnd,
          pickup,
          tied,
          meter,
        })),
      );
    expect(said(chart.marks)).toEqual(said(marks));
    expect(chart.marks.meter).toEqual(marks.meter);
  });

  it('has its title', () => {
    const title = /title = "(.*?)"/.exec(source(name))![1]!;
    expect(titleOf(chart.pages)?.text).toBe(title);
    expect(titleOf(chart.pages)!.sure).toBeGreaterThan(0.9);
  });

  it('calls no bars twins that are none', () => {
    const bars = marks.systems.flatMap((system) => system.bars);
    const root = (i: number): number => {
      const as = bars[i]!.as;
      return as === undefined ? i : root(bars.findIndex(({ id }) => id === as));
    };
    for (const list of chart.twins)
      for (const bar of list.slice(1))
        // Bars inside a section may be alike without being marked so; across sections the marks are complete.
        if (bars[bar]!.as !== undefined) expect(list.map(root)).toContain(root(bar));
  });
});

describe('the twins of aaba.pdf', () => {
  it('are found', async () => {
    const { twins } = await find('aaba');
    const together = (a: number, b: number) => twins.some((list) => list.includes(a) && list.includes(b));
    const pairs = Array.from({ length: 8 }, (_, i) => [i, i + 8] as const);
    expect(pairs.filter(([a, b]) => together(a, b)).length).toBeGreaterThanOrEqual(7);
  });
});

describe('the route', () => {
  it('follows repeats and endings as they were found', async () => {
    const { route } = await find('endings');
    const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);
    // The opening repeat has no sign on this page: it goes back to the beginning.
    expect(route).toEqual([
      ...range(0, 7),
      ...range(0, 5),
      ...range(8, 9),
      ...range(10, 17),
      ...range(10, 17),
      18,
      19,
    ]);
  });

  it('leaves the pickup out', async () => {
    expect((await find('waltz')).route[0]).toBe(1);
  });
});

describe('scanned.pdf', () => {
  it('has nothing to be found in its drawing', async () => {
    expect((await find('scanned')).pages[0]!.systems).toEqual([]);
  });
});
