import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { uprightness } from '../../../src/core/find/lying.ts';
import { findPixels, type Picture } from '../../../src/core/find/pixels/index.ts';
import type { BarLineKind, FoundBar, FoundPage } from '../../../src/core/find/types.ts';
import { pageWithoutMusic } from '../../corpus/scans/no-music.ts';
import { createLooker } from '../../../src/stand/find/lying.ts';
import { NOT_TURNED } from '../../../src/core/chart/turn.ts';
import type { Turn } from '../../../src/core/chart/types.ts';
import { print } from '../../corpus/scans/print.ts';

/** A quarter turn, clockwise. */
function quarter({ width, height, data }: Picture): Picture {
  const out = new Uint8Array(data.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) out[x * height + (height - 1 - y)] = data[y * width + x]!;
  return { width: height, height: width, data: out };
}
const found = (picture: Picture) => findPixels(picture, 0, picture);

describe('a scan', () => {
  const upright = print(resolve('sample-pdfs/scanned.pdf'), 0, 150);
  const side = quarter(upright);
  const upsideDown = quarter(side);

  test('on its side holds no bars, and both ways up it does', () => {
    expect(found(side).systems).toEqual([]);
    expect(found(upsideDown).systems.length).toBe(found(upright).systems.length);
  });
  test('the right way up has more that speaks for it', () => {
    const [up, down] = [uprightness([found(upright)]), uprightness([found(upsideDown)])];
    expect(up).toBeGreaterThan(down!);
  });
});

test.each(['text', 'table', 'map', 'photograph', 'noise'])('a page of %s is not turned', (kind) => {
  const page = pageWithoutMusic(kind, 2, true);
  expect(uprightness([found(quarter(page))])).toBeNull();
});

const box = [0, 0, 1, 1] as const;
const bar = (right: BarLineKind, more: Partial<FoundBar> = {}): FoundBar => ({
  box,
  left: 'none',
  right,
  sure: 0.95,
  ...more,
});
const page = (bars: FoundBar[], more: Partial<FoundPage> = {}): FoundPage => ({
  page: 0,
  width: 1,
  height: 1,
  systems: bars.length > 0 ? [{ box, staves: [], bars, sure: 1 }] : [],
  signs: [],
  by: 'pixels',
  ...more,
});
const three = [bar('single'), bar('single'), bar('single')];

describe('what speaks for upright', () => {
  const plain = uprightness([page([...three, bar('single')])])!;
  test.each<[string, FoundPage]>([
    ['a last bar line', page([...three, bar('final')])],
    ['a repeat at the end', page([...three, bar('repeat-end')])],
    ['a bracket', page([...three, bar('single', { ending: [1] })])],
    [
      'a meter',
      page([...three, bar('single')], { signs: [{ kind: 'meter', page: 0, box, bar: 0, sure: 1 }] }),
    ],
    ['printed signs', page([...three, bar('single')], { by: 'ink' })],
  ])('%s', (_, one) => {
    expect(uprightness([one])).toBeGreaterThan(plain);
  });
  test.each<[string, FoundBar[]]>([
    ['too few bars', three],
    ['bars that are not sure', [...three, bar('final', { sure: 0.1 })].map((one) => ({ ...one, sure: 0.7 }))],
  ])('nothing, with %s', (_, bars) => {
    expect(uprightness([page(bars)])).toBeNull();
  });
});

describe('pages of one file', () => {
  /** Music that lies so far, its last line ending so where it stands upright; null: none. */
  type Lying = readonly [upright: Turn, end: BarLineKind] | null;
  const looker = (pages: readonly Lying[]) => {
    const asked: number[] = [];
    const find = (index: number, turn: Turn) => {
      asked.push(index);
      const [upright, end] = pages[index] ?? [];
      if (upright === undefined || turn % 180 !== upright % 180)
        return Promise.resolve(page([], { page: index }));
      const last = bar(turn === upright ? end! : 'single');
      // A scan is read as surely upside down, and a little more by chance.
      const sure = turn === upright ? 0.95 : 0.96;
      return Promise.resolve(
        page(
          [...three, last].map((one) => ({ ...one, sure })),
          { page: index },
        ),
      );
    };
    return { asked, ...createLooker({ find }, NOT_TURNED, new AbortController().signal) };
  };
  const lookAt = async (pages: readonly Lying[]) => {
    const { look, settled, asked } = looker(pages);
    const looked = [];
    for (const index of pages.keys()) looked.push((await look(index))!);
    return { turns: looked.map((one) => settled(one).turn), asked };
  };

  test('are turned each by itself', async () => {
    const { turns } = await lookAt([[0, 'final'], [90, 'final'], null, [270, 'final'], [0, 'single']]);
    expect(turns).toEqual([0, 90, 0, 270, 0]);
  });
  test('that do not tell by themselves lie as those that do', async () => {
    const { turns } = await lookAt([
      [90, 'single'],
      [90, 'final'],
    ]);
    expect(turns).toEqual([90, 90]);
  });
  test('are turned no more after some without music, until there is music again', async () => {
    const { turns, asked } = await lookAt([null, null, null, [90, 'final'], [0, 'final'], [90, 'final']]);
    expect(turns).toEqual([0, 0, 0, 0, 0, 90]);
    expect(asked.filter((index) => index === 3)).toHaveLength(1);
  });
});
