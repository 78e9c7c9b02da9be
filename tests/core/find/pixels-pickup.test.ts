import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { BarParts } from '../../../src/core/find/bars/bars.ts';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import type { SaidMeter } from '../../../src/core/find/pixels/meter.ts';
import { isPickup } from '../../../src/core/find/pixels/pickup.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { drawnStaves, UNIT, type Drawn } from './drawn/straight.ts';

async function pickupsOn(name: string) {
  const file = await openInk(new Uint8Array(readFileSync(new URL(`../../../${name}.pdf`, import.meta.url))));
  const page = findPixels(await file.grey(0, 150), 0, { width: 595, height: 842 });
  await file.destroy();
  return page.systems.map(({ bars }) => bars.map(({ pickup }) => pickup === true));
}

// What LilyPond engraved: \partial stands in its source.
test('the pickup of a waltz is read from its pixels', async () => {
  const [first, ...others] = await pickupsOn('sample-pdfs/waltz');
  expect(first!.map((is, i) => (is ? i : -1)).filter((i) => i >= 0)).toEqual([0]);
  expect(others.flat()).not.toContain(true);
});

test.each([
  'sample-pdfs/first',
  'sample-pdfs/aaba',
  'sample-pdfs/endings',
  'sample-pdfs/scanned',
  'tests/fixtures/find/al-fine',
  'tests/fixtures/find/al-coda',
])('no pickup on %s', async (name) => {
  expect((await pickupsOn(name)).flat()).not.toContain(true);
});

describe('drawn by hand, in four quarters', () => {
  const METER = { meter: { beats: 4, value: 4 }, sure: 0.99, x: 8 * UNIT };
  const LINE = 16;
  const bar = (x0: number, x1: number, left: BarParts['left'] = 'single'): BarParts => ({
    ...{ x0: x0 * UNIT, x1: x1 * UNIT, left, right: 'single' },
    ...{ bracket: null, things: [], sure: 0.99 },
  });
  const barline = { x: LINE * UNIT, kind: 'single', chance: 0.99, kindChance: 0.6 } as const;
  /** A head with its stem, whose sides are grey as in print. */
  const note = (on: Drawn, x: number, hole = 0) =>
    on
      .oval(x, x + 1.3, 2.5, 3.5, hole)
      .fill(x + 1.15, x + 1.32, -0.5, 3)
      .fill(x + 1.07, x + 1.4, -0.5, 3, 84);
  const rest = (on: Drawn, x: number) => on.fill(x, x + 1, 0.7, 3.4);
  /** A second bar that may be full, with the first as drawn. */
  const isSaid = (on: Drawn, left: BarParts['left'] = 'none', meter: SaidMeter = METER) =>
    isPickup(rest(note(on, 20), 24), [bar(3, LINE, left), bar(LINE, 30)], [barline], meter);

  test('one filled note is a pickup', () => {
    expect(isSaid(note(drawnStaves(30), 12))).toBe(true);
  });
  test('also where no digits of the meter are told from the key', () => {
    expect(isSaid(note(drawnStaves(30).fill(4, 8.8, -0.5, 4.4), 12))).toBe(true);
  });
  test('also one whose stem noise has parted from it, or beside specks', () => {
    const lost = drawnStaves(30).oval(12, 13.3, 2.5, 3.5).fill(13.15, 13.32, -0.5, 3, 70);
    expect(isSaid(lost)).toBe(true);
    expect(isSaid(note(drawnStaves(30), 12).fill(14, 14.4, 2.3, 2.7, 120))).toBe(true);
  });
  test('also behind digits twice as high as usual that the net does not know', () => {
    const digits = (on: Drawn) => on.fill(8, 10.2, -2, 1.6).fill(8, 10.2, 2.3, 6);
    const none = { meter: null, sure: 0.6, x: 5 * UNIT };
    expect(isSaid(note(digits(drawnStaves(30)).fill(8.9, 9.3, 1, 3), 12), 'none', none)).toBe(true);
  });
  test.each([
    ['a hollow note', note(drawnStaves(30), 12, 0.7)],
    ['a note and a rest', rest(note(drawnStaves(30), 11), 14)],
    ['nothing', drawnStaves(30)],
  ])('%s is none', (_, on) => {
    expect(isSaid(on)).toBe(false);
  });
  test('nor is what stands behind the sign at which a repeat begins', () => {
    expect(isSaid(note(drawnStaves(30), 12), 'repeat-start')).toBe(false);
  });
  test('nor anything where no meter stands', () => {
    expect(isSaid(note(drawnStaves(30), 12), 'none', { ...METER, meter: null })).toBe(false);
  });
});
