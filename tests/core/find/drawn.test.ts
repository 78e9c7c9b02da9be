/** The same music, drawn in every way that PDF has: found as on the plain page. */
import { describe, expect, it } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { form, pdfOf, type PageSpec } from './drawn/file.ts';
import { smuflFont } from './drawn/font.ts';
import * as music from './drawn/music.ts';
import { drawnFont } from './drawn/type3.ts';

const { WIDTH, HEIGHT, X0, EDGES, TOPS, SPACE, KINDS } = music;

async function pageOf(spec: PageSpec): Promise<FoundPage> {
  const file = await openInk(await pdfOf(spec));
  const found = findInInk(await file.ink(0));
  await file.destroy();
  return found;
}

const barsOf = (page: FoundPage) => page.systems.flatMap(({ bars }) => bars);
const parts = music.plainMusic();
const all = parts.staves + parts.lines + parts.notes;
const plain = { width: WIDTH, height: HEIGHT };

/** Boxes of the bars in page points from the top left. */
const BOXES = TOPS.flatMap((top) =>
  EDGES.map((x, i) => [i === 0 ? X0 : EDGES[i - 1]!, HEIGHT - top, x, HEIGHT - top + 4 * SPACE]),
);

/** Bars as they are drawn, moved and scaled by `scale` and the place of the plain page's corner. */
function expectMusic(page: FoundPage, scale = 1, left = 0, top = 0) {
  const bars = barsOf(page);
  expect(bars.map((bar) => [bar.left, bar.right])).toEqual(KINDS);
  bars.forEach((bar, i) => {
    const [x0, y0, x1, y1] = BOXES[i]!;
    const wanted = [left + x0! * scale, top + y0! * scale, left + x1! * scale, top + y1! * scale];
    const got = [
      bar.box[0] * page.width,
      bar.box[1] * page.height,
      bar.box[2] * page.width,
      bar.box[3] * page.height,
    ];
    got.forEach((value, k) => expect(Math.abs(value - wanted[k]!)).toBeLessThan(2.1 * scale));
    expect(bar.sure).toBeGreaterThanOrEqual(0.9);
  });
}

describe('music', () => {
  it('drawn plainly', async () => {
    expectMusic(await pageOf({ ...plain, content: all }));
  });

  it.each([
    ['in hundredths', `0.01 0 0 0.01 0 0 cm 100 0 0 100 0 0 cm ${all}`, 1, 0, 0],
    [
      'upside down and back',
      `-1 0 0 -1 ${WIDTH} ${HEIGHT} cm -1 0 0 -1 ${WIDTH} ${HEIGHT} cm ${all}`,
      1,
      0,
      0,
    ],
    ['mirrored twice', `-1 0 0 1 ${WIDTH} 0 cm -1 0 0 1 ${WIDTH} 0 cm ${all}`, 1, 0, 0],
    ['tiny', `0.3 0 0 0.3 100 200 cm ${all}`, 0.3, 100, HEIGHT - 200 - 0.3 * HEIGHT],
    ['behind a saved state', `q 5 0 0 5 0 0 cm Q q ${all} Q`, 1, 0, 0],
    ['with a colour of its own', `0.2 0.2 0.5 rg 0.2 0.2 0.5 RG ${all}`, 1, 0, 0],
  ])('%s', async (_, content, scale, left, top) => {
    expectMusic(await pageOf({ ...plain, content }), scale, left, top);
  });

  it('huge', async () => {
    const content = `3.5 0 0 3.5 0 0 cm ${all}`;
    expectMusic(await pageOf({ width: 3.5 * WIDTH, height: 3.5 * HEIGHT, content }), 3.5);
  });

  it('on a cropped page', async () => {
    const crop = [30, 40, 540, 330] as const;
    expectMusic(await pageOf({ ...plain, content: all, crop }), 1, -30, -(HEIGHT - 40 - 330));
  });

  it('in large units', async () => {
    expectMusic(await pageOf({ ...plain, content: all, userUnit: 2 }), 2);
  });

  it.each([
    [90, `0 1 -1 0 ${HEIGHT} 0 cm`],
    [180, `-1 0 0 -1 ${WIDTH} ${HEIGHT} cm`],
    [270, `0 -1 1 0 0 ${WIDTH} cm`],
  ])('on a page turned by %i', async (rotate, matrix) => {
    const lies = rotate % 180 !== 0;
    const [width, height] = lies ? [HEIGHT, WIDTH] : [WIDTH, HEIGHT];
    expectMusic(await pageOf({ width, height, rotate, content: `${matrix} ${all}` }));
  });

  it('in forms in forms, each with a transform of its own', async () => {
    const page = await pageOf({
      ...plain,
      content: 'q 0.5 0 0 0.5 0 0 cm /A Do Q',
      resources: (add) => {
        const notes = form(add, parts.notes, [2, 0, 0, 2, 0, 0]);
        const lines = form(add, parts.lines, [1, 0, 0, 1, 10, 20]);
        const inner = form(
          add,
          `q 2 0 0 2 0 0 cm ${parts.staves} 1 0 0 1 -10 -20 cm /L Do Q /N Do`,
          undefined,
          {
            XObject: { L: lines, N: notes },
          },
        );
        return { XObject: { A: form(add, '/B Do', [1, 0, 0, 1, 0, 0], { XObject: { B: inner } }) } };
      },
    });
    expectMusic(page);
  });

  it('two pages on one are read one after the other', async () => {
    const page = await pageOf({
      width: 1200,
      height: HEIGHT,
      content: `q ${all} Q q 1 0 0 1 ${WIDTH} 0 cm ${all} Q`,
    });
    const lefts = page.systems.map(({ box }) => Math.round(box[0] * 1200));
    expect(lefts).toEqual([50, 50, 650, 650]);
    expect(barsOf(page)).toHaveLength(16);
  });

  it.each(['strokes', 'letters'])('as drawings of a Type 3 font, staff lines as %s', async (how) => {
    const { font, content } = drawnFont(how === 'letters');
    const page = await pageOf({
      ...plain,
      content: how === 'letters' ? content : parts.staves + content,
      resources: (add) => ({ Font: { T: font(add) } }),
    });
    expectMusic(page);
  });

  it('with heads of a Type 3 font that are made of pixels', async () => {
    const { font, content } = drawnFont(false, 'pixels');
    const resources: PageSpec['resources'] = (add) => ({ Font: { T: font(add) } });
    const page = await pageOf({ ...plain, content: parts.staves + content, resources });
    expectMusic(page);
    expect(barsOf(page).every(({ silent }) => silent !== true)).toBe(true);
  });

  it('with blanks of a font that draws something else for what it has not', async () => {
    const { font, content } = smuflFont(false, true);
    const resources: PageSpec['resources'] = (add) => ({ Font: { S: font(add) } });
    expectMusic(await pageOf({ ...plain, content: parts.staves + content, resources }));
  });

  it.each(['strokes', 'letters'])('as letters of a SMuFL font, staff lines as %s', async (how) => {
    const { font, content } = smuflFont(how === 'letters');
    const page = await pageOf({
      ...plain,
      content: (how === 'letters' ? '' : parts.staves) + content,
      resources: (add) => ({ Font: { S: font(add) } }),
    });
    expectMusic(page);
    expect(
      page.signs
        .filter(({ kind }) => kind === 'segno' || kind === 'coda')
        .map(({ kind, bar }) => [kind, bar]),
    ).toEqual([
      ['segno', 1],
      ['coda', 4],
    ]);
    expect(wholeChart([page]).route).toEqual([0, 1, 2, 0, 1, 2, 3, 4, 5, 6, 7]);
  });
});
