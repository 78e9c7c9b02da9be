import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { defaultNumbers, planOf } from '../../../src/core/chart/plan.ts';
import type { Marks, Plan } from '../../../src/core/chart/types.ts';
import { clefEnd } from '../../../src/core/drill/clef.ts';
import { cutsOf, NOTHING_SEEN, runsOf } from '../../../src/core/drill/cuts.ts';
import { leastStaff } from '../../../src/core/drill/legible.ts';
import { linesFit, settingOf, type Setting } from '../../../src/core/drill/setting.ts';

const read = (name: string): Plan =>
  planOf(
    JSON.parse(
      readFileSync(new URL(`../../../sample-pdfs/${name}.marks.json`, import.meta.url), 'utf8'),
    ) as Marks,
    defaultNumbers,
  );
/** A4 at 96 px an inch, as often as any sample has pages. */
const a4 = { width: (210 / 25.4) * 96, height: (297 / 25.4) * 96 };
const pages = [a4, a4, a4];
const plans = ['aaba', 'two-pages', 'waltz', 'endings', 'scanned'].map((name) => [name, read(name)] as const);
const rooms = [
  { width: 1075, height: 876 },
  { width: 690, height: 560 },
  { width: 786, height: 820 },
  { width: 370, height: 420 },
];

/** Every span of one to nine bars in windows wide and narrow, for players near and far. */
function* settings() {
  for (const [name, plan] of plans)
    for (const room of rooms)
      for (const metres of [1, 2])
        for (const density of [1, 1.5])
          for (let from = 0; from < plan.bars.length; from += 5)
            for (const length of [1, 3, 9]) {
              const span = { from, to: from + length - 1 };
              const cuts = cutsOf(plan, span, pages);
              const least = leastStaff(metres);
              const setting = settingOf({ cuts, pages, room, least, density });
              yield {
                what: `${name} ${from}+${length} at ${metres} m`,
                plan,
                span,
                cuts,
                room,
                least,
                setting,
              };
            }
}
const boxesOf = (setting: Setting) => setting.lines.flatMap(({ boxes }) => boxes);

describe('the size that a distance asks for', () => {
  it('is 20 mm at two metres: 7 mm at 70 cm, CSS px at 96 an inch', () => {
    expect(leastStaff(2)).toBeCloseTo((20 * 96) / 25.4, 6);
    expect(leastStaff(0.7)).toBeCloseTo((7 * 96) / 25.4, 6);
  });
});

describe('bars set large', () => {
  it('stand in order, every one of the span, one to four a line', () => {
    for (const { what, cuts, setting } of settings()) {
      expect(
        boxesOf(setting).map(({ bar }) => bar),
        what,
      ).toEqual(cuts.map(({ bar }) => bar));
      for (const { boxes } of setting.lines) {
        expect(boxes.length, what).toBeGreaterThanOrEqual(1);
        expect(boxes.length, what).toBeLessThanOrEqual(4);
      }
    }
  });

  it('are never smaller than asked, unless a single bar would not fit; and always fill what they can', () => {
    let [asked, shrunk] = [0, 0];
    for (const { what, setting, least, room, cuts } of settings()) {
      const smallest = Math.min(...boxesOf(setting).map(({ staff }) => staff));
      if (smallest >= least - 1e-6) {
        asked++;
        continue;
      }
      shrunk++;
      const widest = Math.max(...setting.lines.map(lineWidth(setting)));
      const highest = Math.max(...setting.lines.map(({ top, bottom }) => bottom - top));
      const full = widest > room.width - 8 || highest > room.height - 8;
      expect(full, `${what}: ${smallest} px where ${least} were asked, ${cuts.length} boxes`).toBe(true);
    }
    expect(asked).toBeGreaterThan(100);
    expect(shrunk).toBeGreaterThan(20);
  });

  it('lie inside the window, across always, and down as long as they need not be scrolled', () => {
    for (const { what, setting, room } of settings()) {
      expect(setting.width, what).toBeLessThanOrEqual(room.width);
      for (const { top, bottom } of setting.lines)
        expect(bottom - top, what).toBeLessThanOrEqual(room.height);
      for (const { left, width } of boxesOf(setting).map(({ box }) => box)) {
        expect(left, what).toBeGreaterThanOrEqual(0);
        expect(left + width, what).toBeLessThanOrEqual(setting.width + 1e-6);
      }
    }
  });

  it('lie where their picture has them: beats stand under the right bar', () => {
    for (const { what, setting } of settings())
      for (const { pieces, boxes } of setting.lines) {
        const { source, left, top } = pieces.at(-1)!;
        const fine = setting.scale * setting.density;
        for (const { box, placed } of boxes) {
          const inPicture = placed.box[0] * a4.width * fine - source.left;
          expect((box.left - left) * setting.density, what).toBeCloseTo(inPicture, 6);
          const down = placed.box[1] * a4.height * fine - source.top;
          expect((box.top - top) * setting.density, what).toBeCloseTo(down, 6);
        }
      }
  });

  it('are drawn pixel for pixel: whole device pixels, the next piece where the last one ends', () => {
    for (const { what, setting } of settings())
      for (const { pieces } of setting.lines) {
        for (const { source, left, top } of pieces)
          for (const n of [...Object.values(source), left * setting.density, top * setting.density])
            expect(Math.abs(n - Math.round(n)), what).toBeLessThan(1e-6);
        const [clef, bars] = pieces;
        if (bars) expect(clef!.left + clef!.source.width / setting.density, what).toBeCloseTo(bars.left, 6);
      }
  });

  it('have clef and key signature in front where they do not begin with them', () => {
    for (const { what, setting, plan } of settings())
      for (const { pieces, boxes } of setting.lines) {
        const { placed } = boxes[0]!;
        const line = plan.bars
          .flatMap((bar) => bar.boxes)
          .concat(plan.pickup?.boxes ?? [])
          .filter(({ page, box }) => page === placed.page && box[1] === placed.box[1]);
        const start = Math.min(...line.map(({ box }) => box[0]));
        expect(pieces.length, what).toBe(placed.box[0] > start + 1e-6 ? 2 : 1);
      }
  });

  it('break as evenly as they can, into as few lines as fit', () => {
    const plan = read('aaba');
    const given = { pages, least: leastStaff(1), density: 1 };
    const cuts = cutsOf(plan, { from: 0, to: 3 }, pages);
    const bars = (width: number) =>
      settingOf({ ...given, cuts, room: { width, height: 5000 } }).lines.map(({ boxes }) => boxes.length);
    expect(bars(3000)).toEqual([4]);
    expect(bars(600)).toEqual([2, 2]);
  });
});

describe('a printed line', () => {
  it('needs no cutting where it fits as large as asked', () => {
    const plan = read('aaba');
    const cuts = cutsOf(plan, { from: 0, to: 1 }, pages);
    const fits = (metres: number, width: number) =>
      linesFit({ cuts, pages, room: { width, height: 900 }, least: leastStaff(metres) });
    expect(fits(2, 1000)).toBe(false);
    expect(fits(2, 3000)).toBe(true);
    expect(fits(0.7, 1000)).toBe(true);
  });

  it('is cut from where it was seen to begin, and all of its bars with it', () => {
    const seen = { ...NOTHING_SEEN, begin: (_page: number, top: number) => top - 0.07 };
    const span = { from: 0, to: 2 };
    const cuts = cutsOf(read('aaba'), span, pages, seen);
    const room = { width: 4000, height: 900 };
    const { lines } = settingOf({ cuts, pages, room, least: 80, density: 1 });
    const [plain, higher] = [cutsOf(read('aaba'), span, pages), cuts].map(([first]) => first!.line);
    expect(higher).toEqual({ ...plain, y0: plain!.top - 0.07 });
    const over = (0.07 * a4.height * lines[0]!.boxes[0]!.staff) / cuts[0]!.staff;
    for (const { box } of lines[0]!.boxes) expect(Math.abs(box.top - over)).toBeLessThan(2);
  });

  it.each([-0.01, 0.01])(
    'that lies askew is as large as its staves are, and begins where they do (%d)',
    (lean) => {
      const plan = read('aaba');
      const bars = plan.bars.map((bar) => ({ ...bar, boxes: bar.boxes.map((box) => ({ ...box, lean })) }));
      const [askew, straight] = [{ ...plan, bars }, plan].map(
        (each) => cutsOf(each, { from: 0, to: 0 }, pages)[0]!,
      );
      expect(straight!.staff - askew!.staff).toBeCloseTo(0.01 * a4.height, 6);
      expect(askew!.line.head - straight!.line.head).toBeCloseTo(Math.max(0, -lean), 9);
      const room = { width: 4000, height: 4000 };
      const { scale } = settingOf({ cuts: [askew!], pages, room, least: 80, density: 1 });
      expect(scale * askew!.staff).toBeGreaterThanOrEqual(80 - 1e-6);
    },
  );

  it('goes on below its reach where something stands across its end', () => {
    const seen = { ...NOTHING_SEEN, end: () => 0.5 };
    const cuts = cutsOf(read('aaba'), { from: 0, to: 0 }, pages, seen);
    const room = { width: 4000, height: 4000 };
    const { scale, lines } = settingOf({ cuts, pages, room, least: 80, density: 1 });
    expect(cuts[0]!.line.y1).toBe(0.5);
    expect(lines[0]!.bottom).toBeGreaterThan((0.5 - cuts[0]!.line.y0) * a4.height * scale);
  });

  it('knows the staves over and under it on its page', () => {
    const plan = read('aaba');
    const tops = [...new Set(plan.bars.flatMap(({ boxes }) => boxes.map(({ box }) => box[1])))];
    const line = (at: number) => cutsOf(plan, { from: at, to: at }, pages)[0]!.line;
    const [first, last] = [line(0), line(plan.bars.length - 1)];
    expect(first).toMatchObject({ above: null, below: tops.sort((a, b) => a - b)[1] });
    expect(first.below).toBeGreaterThan(first.bottom);
    // The form ends on the third of its three lines or goes back: what is last on the page has none under it.
    expect(
      [first, last].filter(({ top }) => top === Math.max(...tops)).every(({ below }) => below === null),
    ).toBe(true);
  });

  it('has its clef before its first bar where a repeat opens it', () => {
    const plan = read('aaba');
    const span = { from: 0, to: 0 };
    const first = cutsOf(plan, span, pages)[0]!.placed.box[0];
    const seen = { ...NOTHING_SEEN, start: () => first - 0.05 };
    const cuts = cutsOf(plan, span, pages, seen);
    // Not so far that the strokes of the repeat stand there twice.
    const strokes = (0.2 * cuts[0]!.staff) / a4.width;
    expect(cuts[0]!.line.x0).toBe(first - 0.05);
    expect(cuts[0]!.line.clefMost).toBeCloseTo(first - strokes);
    expect(cuts[0]!.line.clefEnd).toBeLessThanOrEqual(first - strokes);
    const { lines } = settingOf({ cuts, pages, room: { width: 4000, height: 900 }, least: 80, density: 1 });
    const [clef, bar, ...more] = lines[0]!.pieces;
    expect(more).toEqual([]);
    expect(clef!.source.left).toBeLessThan(bar!.source.left);
    expect(clef!.left).toBeLessThan(bar!.left);
  });

  it('is cut anew where a jump leaves bars out, and a pickup comes first', () => {
    const endings = read('endings');
    const all = cutsOf(endings, { from: 0, to: endings.bars.length - 1 }, pages);
    for (const run of runsOf(all))
      for (const [i, cut] of run.entries())
        if (i > 0) expect(cut.placed.box[0]).toBeCloseTo(run[i - 1]!.placed.box[2], 1);
    const withPickup = plans.find(([, plan]) => plan.pickup)?.[1];
    expect(withPickup).toBeDefined();
    expect(cutsOf(withPickup!, { from: 0, to: 0 }, pages).map(({ bar }) => bar)).toEqual([-1, 0]);
    expect(cutsOf(withPickup!, { from: 1, to: 1 }, pages).map(({ bar }) => bar)).toEqual([0]);
  });
});

const lineWidth = (setting: Setting) => (line: Setting['lines'][number]) =>
  Math.max(...line.pieces.map(({ left, source }) => left + source.width / setting.density));

describe('the end of clef and key signature', () => {
  const staff = 48;
  type Drawn = [left: number, right: number, ink: number | readonly [number, number, number, number]];
  /** Columns of a line: bare staff but for signs, each [left, right, ink], the same in all spaces or space by space. */
  const columns = (...signs: Drawn[]) =>
    Array.from({ length: 4 * staff }, (_, x) => {
      const at = (4 * x) / staff;
      const ink = signs.find(([left, right]) => at >= left && at < right)?.[2] ?? 0;
      const inSpace = (space: number) => 0.12 + (typeof ink === 'number' ? ink : ink[space]!);
      return [inSpace(0), inSpace(1), inSpace(2), inSpace(3)] as const;
    });
  const clef: Drawn = [0.8, 3.5, 0.3];
  const head: Drawn[2] = [0, 0.7, 0.1, 0.1];
  const spaces = (found: number | null) => (found === null ? null : (4 * found) / staff);

  it('is behind the last accidental, before the first note', () => {
    expect(
      spaces(clefEnd(columns(clef, [4.3, 5.2, 0.2], [5.5, 6.4, 0.2], [9, 10.3, head]), staff)),
    ).toBeCloseTo(7.15, 1);
  });

  it('is behind the clef where there is no key signature', () => {
    expect(spaces(clefEnd(columns(clef, [6, 7.3, head]), staff))).toBeCloseTo(4.25, 1);
  });

  it('takes no bar line at the start for a clef', () => {
    expect(spaces(clefEnd(columns([0, 0.2, 0.9], [2, 4.7, 0.5], [7, 8, head]), staff))).toBeCloseTo(5.45, 1);
  });

  // abcm2ps sets a time signature up to 1.5 spaces behind the key, Verovio the first note 1.1 behind it.
  it.each([
    ['six over eight', 0.45],
    ['two over two', [0.65, 0.15, 0.2, 0.65]],
  ] as const)('is behind a time signature far from the key and near the first note: %s', (_, digits) => {
    const key: Drawn = [4.3, 6.2, [0.3, 0.2, 0.1, 0]];
    expect(
      spaces(clefEnd(columns(clef, key, [7.9, 9.9, digits], [11, 12.2, head], [12.8, 14, head]), staff)),
    ).toBeCloseTo(10.45, 1);
  });

  it('does not take a note with its stem for a time signature', () => {
    const stemmed: Drawn = [6.4, 7.7, [0.06, 0.06, 0.5, 0.3]];
    expect(spaces(clefEnd(columns(clef, stemmed), staff))).toBeCloseTo(4.25, 1);
  });

  it('is not seen where nothing is white', () => {
    expect(clefEnd(columns([0, 16, 0.4]), staff)).toBeNull();
  });
});

describe('a rest of several bars as wide as its line', () => {
  const system = (id: string, top: number, bars: Marks['systems'][number]['bars']) => ({
    id,
    page: 0,
    top,
    bottom: top + 0.024,
    bars,
  });
  const plan = planOf(
    {
      version: 1,
      systems: [
        system('s1', 0.2, [
          { id: 'a', x0: 0.1, x1: 0.3 },
          { id: 'b', x0: 0.3, x1: 0.5 },
        ]),
        system('s2', 0.3, [{ id: 'rest', x0: 0.1, x1: 0.9, restBars: 8 }]),
      ],
      meter: { beats: 4, value: 4 },
      unit: null,
    },
    defaultNumbers,
  );
  const set = (span: { from: number; to: number }) => {
    const given = {
      cuts: cutsOf(plan, span, pages),
      pages,
      room: rooms[2]!,
      least: leastStaff(1.5),
      density: 1,
    };
    return settingOf(given);
  };
  const setting = set({ from: 0, to: 9 });

  it('makes its span no smaller: two stretches of it are left out, not its ends or its middle', () => {
    expect(Math.min(...boxesOf(setting).map(({ staff }) => staff))).toBeGreaterThanOrEqual(
      leastStaff(1.5) - 1e-6,
    );
    const line = setting.lines.at(-1)!;
    expect(line.pieces).toHaveLength(3);
    const shown = (x: number) =>
      line.pieces.some(({ source: { left, width } }) => {
        const at = x * a4.width * setting.scale;
        return at >= left - 1 && at <= left + width + 1;
      });
    // Clef and key (three staff heights at most), the count in the middle of what is behind them, the bar lines.
    const staff = (0.024 * a4.height) / a4.width;
    const middle = (0.1 + 3 * staff + 0.9) / 2;
    expect([0.1, 0.1 + 3.5 * staff, middle - staff, middle, middle + staff, 0.899].map(shown)).not.toContain(
      false,
    );
    expect(shown(middle - 3 * staff)).toBe(false);
    // One piece begins where the last one ends.
    for (const [i, { left }] of line.pieces.entries()) {
      const before = line.pieces[i - 1];
      if (before) expect(left).toBe(before.left + before.source.width);
    }
  });
  it('is set once for all of its bars, and its box goes from bar line to bar line', () => {
    expect(setting.lines.map(({ boxes }) => boxes.map(({ bar }) => bar))).toEqual([
      [0, 1],
      [2, 3, 4, 5, 6, 7, 8, 9],
    ]);
    const { boxes, pieces } = setting.lines.at(-1)!;
    const last = pieces.at(-1)!;
    for (const { box } of boxes) {
      expect(box.left).toBeLessThan(0.2 * boxes[0]!.staff);
      expect(Math.abs(box.left + box.width - last.left - last.source.width)).toBeLessThan(
        0.2 * boxes[0]!.staff + 2,
      );
    }
  });
  it('stays as it is printed where it fits', () => {
    const wide = settingOf({
      cuts: cutsOf(plan, { from: 2, to: 9 }, pages),
      pages,
      room: { width: 3000, height: 2000 },
      least: leastStaff(1),
      density: 1,
    });
    expect(wide.lines.map(({ pieces }) => pieces.length)).toEqual([1]);
  });
});
