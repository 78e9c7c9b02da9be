import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import { openInk } from '../../../src/pdf/node.ts';

async function endsOn(path: string) {
  const file = await openInk(new Uint8Array(readFileSync(new URL(`../../../${path}`, import.meta.url))));
  const page = findPixels(await file.grey(0, 150), 0, { width: 595, height: 842 });
  await file.destroy();
  return page.systems.flatMap(({ bars }) => bars.map(({ right }) => right));
}

// VexFlow, tests/corpus, seed 12: two repeats of eight bars. The net of bar lines has learnt nothing of VexFlow.
test('the dots of a repeat are seen beside a bar line whose kind the net does not know', async () => {
  const ends = await endsOn('tests/fixtures/find/repeat-dots.pdf');
  expect(ends.filter((kind) => kind === 'repeat-end')).toHaveLength(2);
  expect(ends.at(-1)).toBe('repeat-end');
});

test.each(['sample-pdfs/waltz', 'sample-pdfs/aaba', 'tests/fixtures/find/al-coda'])(
  'no dots beside the bar lines of %s',
  async (path) => {
    expect((await endsOn(`${path}.pdf`)).filter((kind) => kind.startsWith('repeat'))).toEqual([]);
  },
);
