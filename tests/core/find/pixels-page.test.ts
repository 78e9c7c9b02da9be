import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findPixels, greyOf, type Picture } from '../../../src/core/find/pixels/index.ts';

const SPACE = 12;
const [WIDTH, HEIGHT] = [1000, 640];

/** A page with ink where `ink` says so: x and y of a pixel's middle. */
function page(ink: (x: number, y: number) => boolean, paper = 255): Picture {
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) data[y * WIDTH + x] = ink(x + 0.5, y + 0.5) ? 20 : paper;
  return { width: WIDTH, height: HEIGHT, data };
}

const TOPS = [120, 300];
const LINES = [80, 300, 520, 740, 918];

/** Two staves of four bars, a filled head with an upward stem in each bar. */
function staves(x: number, y: number, tops: readonly number[] = TOPS): boolean {
  return tops.some((top) => {
    const v = y - top;
    if (x < 80 || x > 920) return false;
    if (v > -1 && v < 4 * SPACE + 1 && Math.abs(v - Math.round(v / SPACE) * SPACE) < 1) return true;
    if (v > -1 && v < 4 * SPACE + 1 && LINES.some((line) => Math.abs(x - line) < 1.5)) return true;
    return LINES.slice(0, 4).some((line) => {
      const [dx, dy] = [x - line - 110, v - 2.5 * SPACE];
      return (dx / 8) ** 2 + (dy / 5.5) ** 2 < 1 || (dx > 5.5 && dx < 7.5 && dy < 0 && dy > -3.5 * SPACE);
    });
  });
}

const bars = (picture: Picture) =>
  findPixels(picture, 0, { width: 500, height: 320 }).systems.map((system) => system.bars);

const turned = (degrees: number) => {
  const [sin, cos] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  return (x: number, y: number): [number, number] => {
    const [dx, dy] = [x - WIDTH / 2, y - HEIGHT / 2];
    return [dx * cos + dy * sin + WIDTH / 2, dy * cos - dx * sin + HEIGHT / 2];
  };
};

describe('a line that lies askew', () => {
  const lines = (picture: Picture) => findPixels(picture, 0, { width: 500, height: 320 }).systems;
  // Staves are 840 px long and 48 high, between their outer lines.
  test.each([1.5, -2])('says how much lower its right end is (%d°)', (degrees) => {
    const found = lines(page((x, y) => staves(...turned(degrees)(x, y))));
    expect(found.length).toBe(2);
    for (const { lean = 0, box } of found) {
      expect(lean * HEIGHT).toBeCloseTo(840 * Math.sin((degrees * Math.PI) / 180), -1);
      expect(Math.abs((box[3] - box[1] - Math.abs(lean)) * HEIGHT - 48)).toBeLessThan(3);
    }
  });
  test('is none where it is straight', () => {
    expect(lines(page(staves)).map(({ lean }) => lean)).toEqual([undefined, undefined]);
  });
  test('is so in the marks too', () => {
    const found = findPixels(
      page((x, y) => staves(...turned(1.5)(x, y))),
      0,
      { width: 500, height: 320 },
    );
    const { marks } = wholeChart([found]);
    expect(marks.version).toBe(6);
    expect(marks.systems.map(({ lean }) => lean)).toEqual(found.systems.map(({ lean }) => lean));
  });
});

describe('four bars on each of two lines', () => {
  const cases: [string, Picture][] = [
    ['as drawn', page(staves)],
    ['on grey paper', page(staves, 150)],
    ['turned by 1.5°', page((x, y) => staves(...turned(1.5)(x, y)))],
    ['turned by −2°', page((x, y) => staves(...turned(-2)(x, y)))],
    ['on paper that curls', page((x, y) => staves(x, y + 6 * Math.sin(x / 160)))],
  ];
  test.each(cases)('%s', (_, picture) => {
    expect(bars(picture).map((system) => system.length)).toEqual([4, 4]);
  });

  test('boxes go from bar line to bar line and from the top line to the bottom line', () => {
    const [x0, y0, x1, y1] = bars(page(staves))[0]![1]!.box;
    expect(Math.abs(x0 * WIDTH - 300)).toBeLessThan(2);
    expect(Math.abs(x1 * WIDTH - 520)).toBeLessThan(2);
    expect(Math.abs(y0 * HEIGHT - 120)).toBeLessThan(2);
    expect(Math.abs(y1 * HEIGHT - 168)).toBeLessThan(2);
  });

  test('a vertical through both staves makes them one system', () => {
    const joined = page((x, y) => staves(x, y) || (Math.abs(x - 80) < 1.5 && y > 119 && y < 349));
    expect(bars(joined)).toHaveLength(1);
    expect(findPixels(joined, 0, { width: 500, height: 320 }).systems[0]!.staves).toHaveLength(2);
  });
});

test('a stem from line to line is no bar line', () => {
  const stem = (x: number, y: number) =>
    (x > 415 && x < 417 && y > 120 && y < 163) || ((x - 409) / 8) ** 2 + ((y - 162) / 5.5) ** 2 < 1;
  expect(bars(page((x, y) => staves(x, y) || stem(x, y)))[0]).toHaveLength(4);
});

test('a sixth line, or no bar line, and there is no music', () => {
  const six = page(
    (x, y) => staves(x, y) || (x > 80 && x < 920 && TOPS.some((top) => Math.abs(y - top - 5 * SPACE) < 1)),
  );
  expect(bars(six)).toEqual([]);
  const ruled = page((x, y) => x > 80 && x < 920 && staves(200, y));
  expect(bars(ruled)).toEqual([]);
});

test('any pixels, however few: an answer, boxes on the page', () => {
  const pixels = fc.record({
    width: fc.integer({ min: 0, max: 150 }),
    height: fc.integer({ min: 0, max: 150 }),
  });
  fc.assert(
    fc.property(pixels, fc.uint8Array({ minLength: 1, maxLength: 400 }), ({ width, height }, some) => {
      const data = Uint8Array.from({ length: width * height }, (_, i) => some[i % some.length]!);
      for (const { box } of bars({ width, height, data }).flat())
        expect(box.every((value) => value >= 0 && value <= 1)).toBe(true);
    }),
    { numRuns: 60 },
  );
});

test('colours become grey, and what is transparent is paper', () => {
  const { data } = greyOf(
    new Uint8Array([255, 255, 255, 255, 0, 0, 0, 255, 0, 0, 0, 0, 255, 0, 0, 255]),
    2,
    2,
  );
  expect([...data]).toEqual([255, 0, 255, 76]);
});

test('a staff whose middle is hidden by beams is one', () => {
  const beam = (x: number, y: number) => x > 310 && x < 640 && Math.abs(y - 348) < 8;
  const head = (x: number, y: number) =>
    [330, 420, 500, 580].some((at) => ((x - at) / 8) ** 2 + ((y - 306) / 5.5) ** 2 < 1);
  const picture = page((x, y) => staves(x, y) || beam(x, y) || head(x, y));
  const { systems } = findPixels(picture, 0, { width: 500, height: 320 });
  expect(systems).toHaveLength(2);
});
