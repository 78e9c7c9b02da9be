import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { pageFrom, sentPage } from '../../../src/core/find/sent.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';

async function found(name: string): Promise<FoundPage> {
  const path = resolve(import.meta.dirname, '../../../sample-pdfs', name);
  const file = await openInk(new Uint8Array(readFileSync(path)));
  const page = findInInk(await file.ink(0), 0);
  await file.destroy();
  return page;
}

const itemsIn = ({ systems }: FoundPage) =>
  systems.flatMap(({ bars }) => bars.flatMap(({ content }) => content?.items ?? []));

describe('a found page that is sent to another thread', () => {
  it.each(['aaba.pdf', 'two-pages.pdf', 'endings.pdf', 'waltz.pdf'])(
    'is the same there, with all that is written in its bars (%s)',
    async (name) => {
      const page = await found(name);
      expect(itemsIn(page).length).toBeGreaterThan(20);
      expect(pageFrom(structuredClone(sentPage(page)))).toStrictEqual(page);
    },
  );

  it('keeps what stands alone in its bar, and bars that say nothing', async () => {
    const page = await found('aaba.pdf');
    const [first, ...others] = page.systems;
    const [bar, doubtful, ...bars] = first!.bars;
    const item = { ...bar!.content!.items[0]!, anywhere: true } as const;
    const changed: FoundPage = {
      ...page,
      systems: [
        {
          ...first!,
          bars: [
            { ...bar!, content: { ...bar!.content!, items: [item] } },
            { ...doubtful!, content: null },
            { ...bar!, content: { ...bar!.content!, items: [] } },
            ...bars,
          ],
        },
        ...others,
      ],
    };
    expect(pageFrom(structuredClone(sentPage(changed)))).toStrictEqual(changed);
  });

  it('leaves the page that it was made from as it was', async () => {
    const page = await found('aaba.pdf');
    const before = JSON.stringify(page);
    sentPage(page);
    expect(JSON.stringify(page)).toBe(before);
  });
});
