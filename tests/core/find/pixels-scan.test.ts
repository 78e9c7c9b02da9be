import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Marks } from '../../../src/core/chart/types.ts';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import { openInk, type InkFile } from '../../../src/pdf/node.ts';
import { tallyOf } from '../../corpus/scans/score.ts';

const sample = (name: string) => readFileSync(new URL(`../../../sample-pdfs/${name}`, import.meta.url));
let file: InkFile | undefined;
let found: FoundPage;

beforeAll(async () => {
  file = await openInk(new Uint8Array(sample('scanned.pdf')));
  found = findPixels(await file.grey(0), 0, { width: 595, height: 842 });
});
afterAll(() => file?.destroy());

test('the scanned sample: every bar, every kind, no ending, from its pixels alone', () => {
  const marks = JSON.parse(sample('scanned.marks.json').toString()) as Marks;
  // The only bar line that sample-pdfs/source/scanned.ly asks for is the final one; there are no endings.
  const truth = marks.systems.flatMap(({ top, bottom, bars }, s) =>
    bars.map(({ x0, x1 }, b) => ({
      box: [x0, top, x1, bottom] as const,
      left: b === 0 ? 'none' : 'single',
      right: s === marks.systems.length - 1 && b === bars.length - 1 ? 'final' : 'single',
    })),
  );
  const bars = found.systems.flatMap((system) => system.bars);
  const tally = tallyOf(bars, truth);
  expect(bars).toHaveLength(truth.length);
  expect(tally.at75).toBe(truth.length);
  expect([...tally.mistaken]).toEqual([]);
  expect(tally.endings).toBe(0);
});

test('a page found from pixels says so, and every bar says how sure it is', () => {
  expect(found.by).toBe('pixels');
  for (const { sure } of found.systems.flatMap((system) => system.bars)) {
    expect(sure).toBeGreaterThan(0.5);
    expect(sure).toBeLessThanOrEqual(1);
  }
  expect(found.systems.every(({ staves }) => staves.length === 1 && staves[0]!.lines.length === 5)).toBe(
    true,
  );
});
