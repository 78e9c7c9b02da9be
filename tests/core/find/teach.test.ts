import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { edit, type Edit } from '../../../src/core/chart/edit.ts';
import { doubtsOf, IN_DOUBT, parseMarks } from '../../../src/core/chart/index.ts';
import type { Bar, Marks } from '../../../src/core/chart/types.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { TRAITS } from '../../../src/core/find/looks/traits.ts';
import { proposalFrom } from '../../../src/core/find/proposal.ts';
import { seenSystems, teach, type SeenSystem } from '../../../src/core/find/teach/index.ts';
import type { FoundPage, PageInk, SeenLine } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { isAsHigh, printed, taking } from '../../corpus/teach/plant.ts';

let next = 0;
const newId = () => `n${next++}`;
const folder = resolve(import.meta.dirname, '../../../sample-pdfs');

async function inkOf(name: string): Promise<PageInk> {
  const file = await openInk(new Uint8Array(readFileSync(resolve(folder, `${name}.pdf`))));
  const ink = await file.ink(0);
  await file.destroy();
  return ink;
}

const barsOf = (marks: Marks): readonly Bar[] => marks.systems.flatMap(({ bars }) => bars);
/** Places of the lines between bars, by line of music. */
const linesOf = (marks: Marks) =>
  marks.systems.map(({ bars }) => bars.slice(1).map(({ x0 }) => Math.round(x0 * 500)));

interface Chart {
  readonly marks: Marks;
  readonly seen: readonly SeenSystem[];
}
const chartOf = (pages: readonly FoundPage[]): Chart => ({
  marks: proposalFrom(pages, newId),
  seen: seenSystems(pages),
});

const learn = ({ marks, seen }: Chart, command: Edit, denied: ReadonlySet<SeenLine> = new Set()) => {
  const after = edit(marks, command, newId);
  return { after, taught: teach(command, { before: marks, after, seen, newId, denied }) };
};

/** Lines of `marks` that `truth` has not, as edits that take them away. */
const wrongIn = (marks: Marks, truth: Marks): Edit[] =>
  marks.systems.flatMap(({ id, bars }, s) => {
    const right = truth.systems[s]!.bars.map(({ x0 }) => x0);
    return bars.flatMap(({ x0 }, i): Edit[] =>
      i > 0 && right.every((x) => Math.abs(x - x0) > 1e-6)
        ? [{ type: 'remove-line', system: id, line: i }]
        : [],
    );
  });

describe('a class of stems taken for bar lines', () => {
  let page: FoundPage;
  let right: Marks;
  let planted: Chart;
  beforeAll(async () => {
    page = findInInk(await inkOf('aaba'));
    right = chartOf([page]).marks;
    planted = chartOf([taking(page, isAsHigh)]);
  });

  test('one taken away takes its likes away, and the chart is as it was engraved', () => {
    const wrong = wrongIn(planted.marks, right);
    expect(wrong.length).toBeGreaterThan(5);
    const { after, taught } = learn(planted, wrong[2]!);
    expect(wrongIn(after, right)).toHaveLength(wrong.length - 1);
    expect(taught?.what).toBe('joined');
    expect(linesOf(taught!.marks)).toEqual(linesOf(right));
    expect(taught!.lines).toHaveLength(wrong.length - 1);
    expect(parseMarks(JSON.parse(JSON.stringify(taught!.marks)))).toEqual(taught!.marks);
  });
  test('what was joined is the player’s own: finding again leaves it', () => {
    const { taught } = learn(planted, wrongIn(planted.marks, right)[0]!);
    const own = new Set(taught!.bars);
    expect(
      barsOf(taught!.marks)
        .filter(({ id }) => own.has(id))
        .every(({ found }) => found === undefined),
    ).toBe(true);
  });
  test('a usual bar line taken away teaches nothing', () => {
    for (const { id, bars } of right.systems)
      for (let line = 1; line < bars.length; line++)
        expect(
          learn(
            { ...planted, marks: right, seen: seenSystems([page]) },
            { type: 'remove-line', system: id, line },
          ).taught,
        ).toBeNull();
  });
  test('a bar line put in at any stem teaches nothing', () => {
    const found = chartOf([page]);
    for (const { lines } of found.seen)
      for (const { x, kind } of lines) {
        const bar = barsOf(found.marks).find(({ x0, x1 }) => x > x0 + 0.02 && x < x1 - 0.02);
        if (kind === undefined && bar)
          expect(learn(found, { type: 'add-line', bar: bar.id, x }).taught).toBeNull();
      }
  });
  test('where the player has left one like it, nothing is taught', () => {
    const wrong = wrongIn(planted.marks, right) as { system: string; line: number }[];
    const { system, line } = wrong.at(-1)!;
    const bar = planted.marks.systems.find(({ id }) => id === system)!.bars[line]!.id;
    const marks = edit(planted.marks, { type: 'vouch', bars: [bar] }, newId);
    expect(learn({ ...planted, marks }, wrongIn(planted.marks, right)[0]!).taught).toBeNull();
  });
  test('a lesson taken back is not given again', () => {
    const wrong = wrongIn(planted.marks, right);
    const { after, taught } = learn(planted, wrong[0]!);
    const again = wrongIn(after, right)[0]!;
    expect(learn({ ...planted, marks: after }, again).taught).not.toBeNull();
    expect(learn({ ...planted, marks: after }, again, new Set(taught!.lines)).taught).toBeNull();
  });
  test('whichever stems are taken and whichever is put right first: no right bar line is lost, no bar of the player’s changed', () => {
    const stems = page.systems.flatMap(({ seen }) =>
      seen!.filter((line) => line.kind === undefined && isAsHigh(line)),
    );
    fc.assert(
      fc.property(
        fc.subarray(stems, { minLength: 2 }),
        fc.nat(),
        fc.array(fc.nat(), { maxLength: 4 }),
        (some, first, vouched) => {
          const chart = chartOf([
            taking(page, (line) => some.some(({ x }) => x === line.x) && isAsHigh(line)),
          ]);
          const all = barsOf(chart.marks);
          const own = vouched.map((n) => all[n % all.length]!.id);
          const marks = edit(chart.marks, { type: 'vouch', bars: own }, newId);
          const wrong = wrongIn(marks, right);
          const command = wrong[first % wrong.length]!;
          const { after, taught } = learn({ ...chart, marks }, command);
          if (taught === null) return;
          const lines = linesOf(taught.marks);
          linesOf(right).forEach((line, s) => expect(lines[s]).toEqual(expect.arrayContaining(line)));
          const now = new Map(barsOf(taught.marks).map((bar) => [bar.id, bar]));
          for (const bar of barsOf(after)) if (own.includes(bar.id)) expect(now.get(bar.id)).toEqual(bar);
          expect(parseMarks(JSON.parse(JSON.stringify(taught.marks)))).toEqual(taught.marks);
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe.each(['short', 'dashed'] as const)('%s bar lines that were left out', (how) => {
  let right: Marks;
  let missing: Chart;
  let gone: number;
  beforeAll(async () => {
    const ink = await inkOf('aaba');
    const found = findInInk(ink);
    right = chartOf([found]).marks;
    const lines = found.systems.flatMap(({ bars }) =>
      bars.slice(1, 3).flatMap(({ box, left }) =>
        left !== 'single'
          ? []
          : [
              {
                x: box[0] * ink.width,
                top: box[1] * ink.height,
                bottom: box[3] * ink.height,
              },
            ],
      ),
    );
    gone = lines.length;
    missing = chartOf([findInInk(printed(ink, lines, how))]);
  });

  test('one put in puts its likes in', () => {
    expect(barsOf(missing.marks).length).toBe(barsOf(right).length - gone);
    expect(gone).toBeGreaterThan(8);
    const x = right.systems[1]!.bars[1]!.x0 + 0.001;
    const bar = missing.marks.systems[1]!.bars.find(({ x0, x1 }) => x0 < x && x1 > x)!;
    const { taught } = learn(missing, { type: 'add-line', bar: bar.id, x });
    expect(taught?.what).toBe('split');
    expect(barsOf(taught!.marks)).toHaveLength(barsOf(right).length);
    for (const [s, { bars }] of taught!.marks.systems.entries())
      for (const [b, { x0 }] of bars.entries())
        expect(Math.abs(x0 - right.systems[s]!.bars[b]!.x0)).toBeLessThan(0.005);
  });
  test('in a bar that the player calls right there is none: then nothing is taught', () => {
    const bar = missing.marks.systems[0]!.bars[0]!;
    const marks = edit(missing.marks, { type: 'vouch', bars: [bar.id] }, newId);
    const x = right.systems[1]!.bars[1]!.x0;
    const at = marks.systems[1]!.bars.find(({ x0, x1 }) => x0 < x && x1 > x)!;
    expect(learn({ ...missing, marks }, { type: 'add-line', bar: at.id, x }).taught).toBeNull();
  });
});

describe('a doubt that was right', () => {
  test('raises its likes above doubt, and no bar that is in doubt for another look', async () => {
    const page = findInInk(await inkOf('aaba'));
    const doubtful: FoundPage = {
      ...page,
      systems: page.systems.map((system, s) => ({
        ...system,
        bars: system.bars.map((bar, i) => ({ ...bar, sure: i === 1 ? (s < 2 ? 0.5 : 0.8) : bar.sure })),
      })),
    };
    const chart = chartOf([doubtful]);
    const doubts = doubtsOf(chart.marks);
    const { taught } = learn(chart, { type: 'vouch', bars: [doubts[0]!.id] });
    expect(taught?.what).toBe('vouched');
    expect(taught!.bars).toEqual([doubts[1]!.id]);
    const raised = barsOf(taught!.marks).find(({ id }) => id === doubts[1]!.id)!;
    expect(raised.found).toBeGreaterThanOrEqual(IN_DOUBT);
    expect(doubtsOf(taught!.marks)).toHaveLength(doubts.length - 2);
  });
});

describe('a repeat that was read as a final bar line', () => {
  const look = (over: number) => TRAITS.map(({ name }) => (name === 'over' ? over : 0));
  const line = (x: number, kind: SeenLine['kind']): SeenLine =>
    kind === undefined ? { x, look: look(0) } : { x, look: look(kind === 'final' ? 0.2 : 0), kind };
  const system = (id: string, top: number) => ({
    id,
    page: 0,
    top,
    bottom: top + 0.03,
    bars: [0, 1, 2, 3].map((i) => ({ id: `${id}${i}`, x0: 0.1 + 0.2 * i, x1: 0.3 + 0.2 * i, found: 0.8 })),
  });
  const marks: Marks = {
    version: 2,
    systems: [system('a', 0.1), system('b', 0.2), system('c', 0.3)],
    meter: { beats: 4, value: 4 },
    unit: null,
  };
  const seen: SeenSystem[] = marks.systems.map(({ top, bottom }) => ({
    page: 0,
    box: [0.1, top, 0.9, bottom],
    space: 0.01,
    lines: [line(0.3, 'single'), line(0.5, 'single'), line(0.7, 'single'), line(0.9, 'final')],
  }));
  test('is one at its likes too, but not at the end of the tune', () => {
    const { taught } = learn({ marks, seen }, { type: 'set-bars', bars: ['a3'], change: { repeatEnd: 2 } });
    expect(taught?.what).toBe('repeats');
    expect(
      barsOf(taught!.marks)
        .filter(({ repeatEnd }) => repeatEnd === 2)
        .map(({ id }) => id),
    ).toEqual(['a3', 'b3']);
  });
  test('says nothing of plain bar lines', () => {
    expect(
      learn({ marks, seen }, { type: 'set-bars', bars: ['a1'], change: { repeatEnd: 2 } }).taught,
    ).toBeNull();
  });
});

describe('a line of no music that was taken away', () => {
  const system = (id: string, top: number, height: number) => ({
    id,
    page: 0,
    top,
    bottom: top + height,
    bars: [{ id: `${id}1`, x0: 0.1, x1: 0.9, found: 0.9 }],
  });
  const marks = (height: number): Marks => ({
    version: 2,
    systems: [0.1, 0.2, 0.3, 0.4, 0.5, 0.6].map((top, i) =>
      system(`s${i}`, top, i === 1 || i === 4 ? height : 0.03),
    ),
    meter: { beats: 4, value: 4 },
    unit: null,
  });
  test('takes lines of its height away, where others are of another', () => {
    const { taught } = learn({ marks: marks(0.02), seen: [] }, { type: 'remove-system', system: 's1' });
    expect(taught?.marks.systems.map(({ id }) => id)).toEqual(['s0', 's2', 's3', 's5']);
  });
  test('says nothing where it is as high as the others', () => {
    expect(
      learn({ marks: marks(0.03), seen: [] }, { type: 'remove-system', system: 's1' }).taught,
    ).toBeNull();
  });
});
