import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import { openInk } from '../../../src/pdf/node.ts';

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
