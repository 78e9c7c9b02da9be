/** A page of pictures straight from what was decoded, against the same page as pdf.js draws it. */
import { describe, expect, test } from 'vitest';
import type { Picture } from '../../../src/core/find/pixels/index.ts';
import { openInk } from '../../../src/pdf/node.ts';
// @ts-expect-error -- plain JavaScript, as the browser tests are
import { corpus } from '../../files/corpus.mjs';
// @ts-expect-error -- as above
import * as images from '../../files/images.mjs';
// @ts-expect-error -- as above
import * as pdf from '../../files/pdf.mjs';
// @ts-expect-error -- as above
import { has } from '../../files/tools.mjs';

interface Case {
  readonly name: string;
  readonly needs?: readonly string[];
  make(): Uint8Array;
}
const { pagesFile, packed, first } = pdf as {
  pagesFile: (pages: readonly object[], options?: object) => Uint8Array;
  packed: (data: Uint8Array, dictionary: string) => Uint8Array;
  first: (pages: number) => number;
};
const { scan } = images as { scan: (perInch: number) => Picture };

/**
 * Levels of 255 that two ways to make a picture smaller may differ by in the mean, and how many pixels by more than a
 * quarter of all there is, after a blur of one pixel.
 */
const MEAN = 2;
const OFF = 0.001;

/** Every pixel the mean of the nine around it. */
function blurred({ width, height, data }: Picture): Picture {
  const at = (x: number, y: number) =>
    data[Math.min(height - 1, Math.max(0, y)) * width + Math.min(width - 1, Math.max(0, x))]!;
  const out = data.map((_, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    let sum = 0;
    for (let k = -1; k <= 1; k++) sum += at(x - 1, y + k) + at(x, y + k) + at(x + 1, y + k);
    return sum / 9;
  });
  return { width, height, data: out };
}

function differences(a: Picture, b: Picture): { mean: number; off: number } {
  expect([a.width, a.height]).toEqual([b.width, b.height]);
  let [sum, off] = [0, 0];
  for (const [i, value] of a.data.entries()) {
    const by = Math.abs(value - b.data[i]!);
    sum += by;
    if (by > 64) off++;
  }
  return { mean: sum / a.data.length, off: off / a.data.length };
}

/** The page both ways, at 100 pixels to the inch. */
async function bothWays(bytes: Uint8Array) {
  const file = await openInk(new Uint8Array(bytes));
  try {
    return { scanned: await file.scanned(0, 100), drawn: await file.drawn(0, 100) };
  } finally {
    await file.destroy();
  }
}

async function expectAlike(bytes: Uint8Array): Promise<void> {
  const { scanned, drawn } = await bothWays(bytes);
  expect(scanned).not.toBeNull();
  const { mean, off } = differences(blurred(scanned!), blurred(drawn));
  expect(mean).toBeLessThan(MEAN);
  expect(off).toBeLessThan(OFF);
}

const dictionary = ({ width, height }: Picture) =>
  `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /ColorSpace /DeviceGray /BitsPerComponent 8`;

/** A page of `content` in which /I is the scan. */
const withScan = (content: string, page = '', resources = '') => {
  const picture = scan(150);
  return pagesFile([{ content, page, resources: `/XObject << /I ${first(1)} 0 R >> ${resources}` }], {
    more: [packed(picture.data, dictionary(picture))],
  });
};
const whole = 'q 595 0 0 842 0 0 cm /I Do Q';

describe('every coding of a scan', () => {
  const cases = (corpus as readonly Case[]).filter(({ name }) =>
    /^(jbig2 arithmetic|fax group [34]|one bit|jpeg|grey|strips)/.test(name),
  );
  // The largest say nothing that the others don't, and JPEG 2000 takes seconds to decode in Node.
  for (const one of cases.filter(({ name }) => !/600 dpi|72 dpi|jpeg 2000/.test(name)))
    test.skipIf(!(one.needs ?? []).every(has as (program: string) => boolean))(one.name, () =>
      expectAlike(one.make()),
    );
  test('ink alone, half transparent', async () =>
    expectAlike((images as { softMaskScan: () => Uint8Array }).softMaskScan()));
});

describe('every way to lie', () => {
  for (const degrees of [90, 180, 270])
    test(`turned by ${degrees}°`, () => expectAlike(withScan(whole, `/Rotate ${degrees}`)));
  test('turned in the page', () => expectAlike(withScan('q 0 842 -595 0 595 0 cm /I Do Q')));
  test('mirrored', () => expectAlike(withScan('q -595 0 0 842 595 0 cm /I Do Q')));
  test('upside down, smaller than the page', () =>
    expectAlike(withScan('q -400 0 0 -600 500 700 cm /I Do Q')));
  test('cropped and turned', () =>
    expectAlike(withScan(whole, '/Rotate 270 /CropBox [50 200 545 742] /UserUnit 1.5')));
  test('two pictures, the one over the other', () =>
    expectAlike(withScan(`${whole} q 300 0 0 425 100 100 cm /I Do Q`)));
  test('in a clip as large as itself, after white paper, under words that do not show', () =>
    expectAlike(
      withScan(
        `1 g 0 0 595 842 re f q 0 0 595 842 re W n ${whole} Q BT 3 Tr /F 12 Tf 50 700 Td (words) Tj ET`,
        '',
        '/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>',
      ),
    ));
});

describe('what has to be drawn', () => {
  const shown = '/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>';
  const half = '/ExtGState << /H << /ca 0.5 >> >>';
  for (const [name, content, resources] of [
    ['words', `${whole} BT /F 12 Tf 50 700 Td (words) Tj ET`, shown],
    ['a line', `${whole} 50 50 m 500 50 l S`, ''],
    ['a picture that leans', 'q 590 20 -20 830 20 0 cm /I Do Q', ''],
    ['a picture cut out', `q 100 100 300 300 re W n ${whole} Q`, ''],
    ['a picture in a round clip', `q 0 0 m 595 0 l 595 842 200 900 0 842 c h W n ${whole} Q`, ''],
    ['a picture half transparent', `/H gs ${whole}`, half],
  ] as const)
    test(name, async () => {
      expect((await bothWays(withScan(content, '', resources))).scanned).toBeNull();
    });
  test('a picture with fewer pixels than are looked at', async () => {
    const { scanned } = await bothWays((images as { hexScan: () => Uint8Array }).hexScan());
    expect(scanned).toBeNull();
  });
});

test('a page that lies otherwise is told from it', async () => {
  const { scanned } = await bothWays(withScan(whole));
  const { drawn } = await bothWays(withScan('q -595 0 0 842 595 0 cm /I Do Q'));
  expect(differences(blurred(scanned!), blurred(drawn)).mean).toBeGreaterThan(4 * MEAN);
});

test('no more pixels than the picture has', async () => {
  const file = await openInk(new Uint8Array(withScan(whole)));
  const { width, height } = (await file.scanned(0))!;
  expect(Math.abs(width - scan(150).width)).toBeLessThanOrEqual(1);
  expect(Math.abs(height - scan(150).height)).toBeLessThanOrEqual(1);
  await file.destroy();
});
