import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import { meterOf, METERS } from '../../../src/core/find/pixels/meter-shapes.ts';
import { openInk } from '../../../src/pdf/node.ts';

const folder = resolve(import.meta.dirname, '../../../sample-pdfs');

async function found(name: string) {
  const file = await openInk(new Uint8Array(readFileSync(resolve(folder, `${name}.pdf`))));
  const page = findPixels(await file.grey(0, 150), 0, { width: 595, height: 842 });
  await file.destroy();
  return page;
}

// What LilyPond engraved: its time signatures are in the sources.
test('the meter of a waltz is read from its pixels, and none where none stands', async () => {
  const { systems, signs } = await found('waltz');
  const meter = { beats: 3, value: 4 };
  expect(systems[0]!.bars[0]!.meter).toEqual(meter);
  const others = systems.slice(1).flatMap(({ bars }) => bars.map((bar) => bar.meter));
  expect(others.length).toBeGreaterThan(8);
  expect(others.every((one) => one === undefined)).toBe(true);
  expect(signs.filter(({ kind }) => kind === 'meter')).toMatchObject([{ kind: 'meter', bar: 0, meter }]);
});

test.each(['first', 'aaba', 'scanned'])('of %s no other meter is said than 4/4', async (name) => {
  const said = (await found(name)).signs.flatMap(({ meter }) => meter ?? []);
  for (const meter of said) expect(meter).toEqual({ beats: 4, value: 4 });
});

test('every answer but none is a meter', () => {
  for (const said of METERS) expect(meterOf(said) === null).toBe(said === 'none');
});
