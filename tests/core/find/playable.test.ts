import { expect, test } from 'vitest';
import { contradictionOf, routeFrom, type Bar, type Marks } from '../../../src/core/chart/index.ts';
import { isInDoubt } from '../../../src/core/chart/found.ts';
import { proposalFrom } from '../../../src/core/find/proposal.ts';
import type { FoundBar, FoundPage, FoundSign } from '../../../src/core/find/types.ts';

const line = (y: number, bars: readonly Partial<FoundBar>[]) => ({
  box: [0.1, y, 0.9, y + 0.05] as const,
  staves: [],
  sure: 1,
  bars: bars.map((bar, i): FoundBar => ({
    box: [0.1 + i * 0.2, y, 0.3 + i * 0.2, y + 0.05],
    left: i === 0 ? 'none' : 'single',
    right: i === 3 ? 'double' : 'single',
    sure: 0.99,
    ...bar,
  })),
});
const sign = (kind: FoundSign['kind'], bar: number, more: Partial<FoundSign> = {}): FoundSign => ({
  kind,
  page: 0,
  box: [0.1, 0.1, 0.2, 0.2],
  bar,
  sure: 0.95,
  ...more,
});
const page = (
  by: FoundPage['by'],
  signs: FoundSign[],
  bars: readonly Partial<FoundBar>[] = [],
): FoundPage => ({
  page: 0,
  width: 595,
  height: 842,
  systems: [
    line(0.2, [{}, {}, {}, {}]),
    line(
      0.4,
      [0, 1, 2, 3].map((i) => bars[i] ?? {}),
    ),
  ],
  signs,
  by,
});
let count = 0;
const marksOf = (found: FoundPage) => proposalFrom([found], () => `id${count++}`);
const barsOf = (marks: Marks): readonly Bar[] => marks.systems.flatMap(({ bars }) => bars);
const contradiction = (marks: Marks) => contradictionOf(routeFrom(marks).problems)?.kind ?? null;

test('a jump on a scan whose segno was not read is left out, and its bar is asked about', () => {
  const marks = marksOf(page('pixels', [sign('ds', 7)]));
  expect(contradiction(marks)).toBeNull();
  expect(barsOf(marks).map(isInDoubt)).toEqual([false, false, false, false, false, false, false, true]);
});

test('a jump that can be played stays', () => {
  const marks = marksOf(page('pixels', [sign('segno', 2), sign('ds', 7)]));
  expect(contradiction(marks)).toBeNull();
  expect(barsOf(marks)[7]?.jump).toBe('ds');
  expect(barsOf(marks).some(isInDoubt)).toBe(false);
});

test('a second ending alone on a scan is left out, and its bars are asked about', () => {
  const bars = [{}, {}, { ending: [2], endingStarts: true as const }, { ending: [2] }];
  const marks = marksOf(page('pixels', [], bars));
  expect(contradiction(marks)).toBeNull();
  expect(barsOf(marks).map(isInDoubt).slice(6)).toEqual([true, true]);
});

test('on an engraved page a contradiction is the page’s own', () => {
  expect(contradiction(marksOf(page('ink', [sign('ds', 7)])))).toBe('segno-missing');
});
