/** Pages without music, and operators without sense: no bars, no crash, no hang. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { pdfOf, type PageSpec } from './drawn/file.ts';
import { kinds, noMusic } from './drawn/no-music.ts';

async function barsOn(...specs: PageSpec[]): Promise<number[]> {
  const file = await openInk(await pdfOf(...specs));
  const counts: number[] = [];
  for (let i = 0; i < file.pages; i++)
    counts.push(findInInk(await file.ink(i), i).systems.flatMap(({ bars }) => bars).length);
  await file.destroy();
  return counts;
}

/** `HOLDFAST_PAGES=13` makes 208 pages. */
const PAGES = Number(process.env.HOLDFAST_PAGES ?? 3);

describe('no bars on', () => {
  it.each(Object.keys(kinds))('%s', async (kind) => {
    const specs = Array.from({ length: PAGES }, (_, seed) => noMusic(kind, seed));
    expect(await barsOn(...specs)).toEqual(specs.map(() => 0));
  });
});

describe('random operators', () => {
  const number = fc
    .oneof(fc.integer({ min: -1000, max: 1000 }), fc.double({ min: -2, max: 2, noNaN: true }))
    .map(String);
  const take = (name: string, count: number) =>
    fc.array(number, { minLength: count, maxLength: count }).map((list) => `${list.join(' ')} ${name}`);
  const operator = fc.oneof(
    take('m', 2),
    take('l', 2),
    take('c', 6),
    take('re', 4),
    take('cm', 6),
    take('w', 1),
    take('Td', 2),
    take('Tm', 6),
    fc.constantFrom(
      'S',
      'f',
      'B',
      'b*',
      'h',
      'n',
      'q',
      'Q',
      'W n',
      'BT',
      'ET',
      '/F 12 Tf',
      '(abc) Tj',
      '/X Do',
      '[(a) -200 (b)] TJ',
      '0 g',
      '1 G',
      '3 Tr',
      '[2 1] 0 d',
      'BI',
      'junk',
    ),
  );
  it('stop nothing, and make no bars', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(operator, { maxLength: 150 }), async (operators) => {
        const start = performance.now();
        const spec = { ...noMusic('text', 1), content: operators.join('\n') };
        expect(await barsOn(spec)).toEqual([0]);
        expect(performance.now() - start).toBeLessThan(5000);
      }),
      { numRuns: 40 * PAGES },
    );
  }, 60_000);
});
