import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { uprightness } from '../../../src/core/find/lying.ts';
import { findPixels, type Picture } from '../../../src/core/find/pixels/index.ts';
import type { BarLineKind, FoundBar, FoundPage } from '../../../src/core/find/types.ts';
import { pageWithoutMusic } from '../../corpus/scans/no-music.ts';
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

describe('what speaks for upright', () => {
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
    systems: [{ box, staves: [], bars, sure: 1 }],
    signs: [],
    by: 'pixels',
    ...more,
  });
  const three = [bar('single'), bar('single'), bar('single')];
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
