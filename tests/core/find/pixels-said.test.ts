/** The bar that words at a bar's end are meant for. */
import { expect, test } from 'vitest';
import type { BarParts } from '../../../src/core/find/bars/bars.ts';
import { saidOf } from '../../../src/core/find/pixels/said.ts';
import type { SystemParts } from '../../../src/core/find/types.ts';

const SPACE = 12;
const staff = { x0: 0, x1: 400, lines: [100, 112, 124, 136, 148], space: SPACE, thickness: 1 };
const parts: SystemParts = { staves: [staff], strokes: [], dots: [], brackets: [], things: [], sure: 1 };
const bars = [0, 100, 200, 300].map((x0): BarParts => ({
  ...{ x0, x1: x0 + 100, left: 'single', right: 'single' },
  ...{ bracket: null, things: [], sure: 1 },
}));
const barOf = (x0: number, x1: number) =>
  saidOf([{ kind: 'to-coda', x0, x1, y0: 60, y1: 80, sure: 0.99, chances: [] }], bars, parts)[0]!.bar;

// Common practice, no source: words are set to a bar line by their end or by their start.
test.each([
  ['the bar at whose line they end', 130, 198, 1],
  ['the bar at whose line they begin', 102, 170, 0],
  ['where they end near one line and begin at another, the one that is nearer', 100, 193, 0],
  ['where both are as near, the one at which they end', 102, 198, 1],
])('%s', (_, x0, x1, bar) => {
  expect(barOf(x0, x1)).toBe(bar);
});

// Gould, "Behind Bars", on da capo: what is meant to be read last stands at the end.
test('a phrase that its dots part is meant for the part at whose end all of it stands', () => {
  const parted = bars.map((bar, i): BarParts => (i === 3 ? { ...bar, right: 'final' } : bar));
  const phrase = { kind: 'dc', al: 'fine', x0: 270, x1: 298, far: 395, y0: 60, y1: 80 } as const;
  expect(saidOf([{ ...phrase, sure: 0.99, chances: [] }], parted, parts)[0]!.bar).toBe(3);
});
test('Fine at the start of the bar that ends its part is meant for that', () => {
  const parted = bars.map((bar, i): BarParts => (i === 1 ? { ...bar, right: 'double' } : bar));
  const fine = { kind: 'fine', x0: 101, x1: 150, y0: 60, y1: 80, sure: 0.99, chances: [] } as const;
  expect(saidOf([fine], parted, parts)[0]!.bar).toBe(1);
});
