import { expect, test } from 'vitest';
import { edit, fromProposal, type Edit } from '../../../src/core/chart/edit.ts';
import { linesOf } from '../../../src/core/chart/edit-lines.ts';
import { copySystem, nextPlace } from '../../../src/core/chart/edit-systems.ts';
import { MIN_BAR, MIN_HEIGHT } from '../../../src/core/chart/edit-shape.ts';
import { apply, barOf, counter, frozen, twoLines } from './charts.ts';

const ids = (marks: ReturnType<typeof twoLines>) =>
  marks.systems.map((system) => system.bars.map((bar) => bar.id).join(' '));
const places = (marks: ReturnType<typeof twoLines>, system = 0) =>
  linesOf(marks.systems[system]!.bars).map((x) => Math.round(x * 1e6) / 1e6);

test('a dragged box becomes evenly split bars, from whichever corner it was dragged', () => {
  for (const box of [
    [0.1, 0.2, 0.9, 0.25],
    [0.9, 0.25, 0.1, 0.2],
  ] as const) {
    const marks = apply(fromProposal([]), [{ type: 'add-system', page: 1, box, bars: 4 }]);
    expect(places(marks)).toEqual([0.1, 0.3, 0.5, 0.7, 0.9]);
    expect(marks.systems[0]).toMatchObject({ page: 1, top: 0.2, bottom: 0.25 });
  }
});

test('what is dragged past the edge of the page ends there', () => {
  const marks = apply(fromProposal([]), [
    { type: 'add-system', page: 0, box: [-0.2, -1, 1.4, 0.2], bars: 2 },
  ]);
  expect(places(marks)).toEqual([0, 0.5, 1]);
  expect(marks.systems[0]).toMatchObject({ top: 0, bottom: 0.2 });
});

test('a count that leaves no room for its bars is lowered to what fits', () => {
  const marks = apply(fromProposal([]), [
    { type: 'add-system', page: 0, box: [0.1, 0.1, 0.1 + 3.5 * MIN_BAR, 0.2], bars: 8 },
  ]);
  expect(marks.systems[0]!.bars).toHaveLength(3);
});

const moves: readonly [name: string, line: number, x: number, expected: readonly number[]][] = [
  ['an inner line is shared by both bars', 1, 0.34, [0.1, 0.34, 0.5, 0.7, 0.9]],
  ['it stops at the least width before the next', 1, 0.8, [0.1, 0.49, 0.5, 0.7, 0.9]],
  ['it stops at the least width after the last', 2, 0, [0.1, 0.3, 0.31, 0.7, 0.9]],
  ['the first line stops at the edge of the page', 0, -3, [0, 0.3, 0.5, 0.7, 0.9]],
  ['the last line stops at the edge of the page', 4, 7, [0.1, 0.3, 0.5, 0.7, 1]],
];
test.each(moves)('moving a line: %s', (_, line, x, expected) => {
  const marks = edit(frozen(twoLines()), { type: 'move-line', system: 's1', line, x }, counter());
  expect(places(marks)).toEqual(expected);
  expect(ids(marks)).toEqual(['a b c d', 'e f g h']);
  expect(marks.systems[1]).toEqual(twoLines().systems[1]);
});

test('a line that stays gives the very same marks', () => {
  const marks = twoLines();
  expect(
    edit(marks, { type: 'move-line', system: 's1', line: 1, x: marks.systems[0]!.bars[1]!.x0 }, counter()),
  ).toBe(marks);
});

test('a line through a bar makes two new bars that know where they come from', () => {
  const said = apply(frozen(twoLines()), [
    { type: 'set-bars', bars: ['b'], change: { section: 'A', tied: true, ending: [1], leadIn: 1 } },
  ]);
  const marks = edit(said, { type: 'add-line', bar: 'b', x: 0.35 }, counter());
  expect(ids(marks)[0]).toBe('a n1 n2 c d');
  expect(barOf(marks, 'n1')).toEqual({
    id: 'n1',
    x0: said.systems[0]!.bars[1]!.x0,
    x1: 0.35,
    was: ['b'],
    section: 'A',
    ending: [1],
    leadIn: 1,
  });
  expect(barOf(marks, 'n2')).toMatchObject({ x0: 0.35, was: ['b'], tied: true, ending: [1] });
  expect(barOf(marks, 'n2')).not.toHaveProperty('section');
});

test('taking a line out joins its bars and says from which', () => {
  const said = apply(frozen(twoLines()), [
    { type: 'set-bars', bars: ['a'], change: { section: 'A', silent: true, tied: true } },
    { type: 'set-bars', bars: ['b'], change: { repeatEnd: 2 } },
  ]);
  const marks = edit(said, { type: 'remove-line', system: 's1', line: 1 }, counter());
  expect(ids(marks)[0]).toBe('n1 c d');
  expect(barOf(marks, 'n1')).toEqual({
    id: 'n1',
    x0: 0.1,
    x1: said.systems[0]!.bars[1]!.x1,
    was: ['a', 'b'],
    section: 'A',
    repeatEnd: 2,
  });
});

test('taking a line out keeps what stands over it: it is the joined bar’s, where its left part says no such thing', () => {
  const said = edit(
    twoLines(),
    { type: 'set-bars', bars: ['b'], change: { section: 'B', repeatStart: true, segno: true } },
    counter(),
  );
  const join: Edit = { type: 'remove-line', system: 's1', line: 1 };
  expect(edit(said, join, counter()).systems[0]!.bars[0]).toMatchObject({
    section: 'B',
    repeatStart: true,
    segno: true,
  });
  const named = edit(said, { type: 'set-bars', bars: ['a'], change: { section: 'A' } }, counter());
  expect(edit(named, join, counter()).systems[0]!.bars[0]!.section).toBe('A');
});

test('another count splits evenly anew; parts know their whole', () => {
  const marks = apply(frozen(twoLines()), [
    { type: 'set-bars', bars: ['a'], change: { section: 'A' } },
    { type: 'set-bars', bars: ['d'], change: { repeatEnd: 2 } },
    { type: 'set-count', system: 's1', bars: 8 },
  ]);
  expect(places(marks)).toEqual([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]);
  expect(marks.systems[0]!.bars.map((bar) => bar.was)).toEqual(
    ['a', 'a', 'b', 'b', 'c', 'c', 'd', 'd'].map((was) => [was]),
  );
  expect(marks.systems[0]!.bars[0]!.section).toBe('A');
  expect(marks.systems[0]!.bars[7]!.repeatEnd).toBe(2);
});

test('the next line copies the shape, as far below as the last two are apart', () => {
  const shaped = apply(twoLines(), [{ type: 'move-line', system: 's2', line: 1, x: 0.37 }]);
  const place = nextPlace(shaped, 's2', 1)!;
  expect(place.page).toBe(0);
  expect(place.top).toBeCloseTo(0.4, 12);
  const marks = apply(shaped, [{ type: 'copy-system', system: 's2', place }]);
  expect(places(marks, 2)).toEqual([0.1, 0.37, 0.5, 0.7, 0.9]);
  expect(marks.systems[2]!.bottom).toBeCloseTo(0.45, 12);
});

test('past the foot of a page the next line is at the head of the next, past the last there is none', () => {
  const marks = apply(twoLines(), [{ type: 'copy-system', system: 's2', place: { page: 0, top: 0.93 } }]);
  const last = marks.systems[2]!.id;
  expect(nextPlace(marks, last, 2)).toEqual({ page: 1, top: 0.1 });
  expect(nextPlace(marks, last, 1)).toBeNull();
});

test('systems stand in reading order wherever they are put or moved', () => {
  const marks = apply(frozen(twoLines()), [
    { type: 'add-system', page: 0, box: [0.1, 0.18, 0.5, 0.22], bars: 1 },
    { type: 'add-system', page: 0, box: [0.6, 0.181, 0.9, 0.221], bars: 1 },
    { type: 'add-system', page: 1, box: [0.1, 0.01, 0.9, 0.05], bars: 1 },
    { type: 'move-system', system: 's1', dx: 0, dy: 0.3 },
  ]);
  expect(ids(marks)).toEqual(['n1', 'n3', 'e f g h', 'a b c d', 'n5']);
});

test('removing a system hands its twins on to the first that is left', () => {
  const marks = apply(frozen(twoLines()), [
    { type: 'add-system', page: 0, box: [0.1, 0.5, 0.9, 0.55], bars: 1 },
    { type: 'as', bars: ['e'], from: 'a' },
    { type: 'as', bars: ['n1'], from: 'a' },
    { type: 'remove-system', system: 's1' },
  ]);
  expect(barOf(marks, 'e')).not.toHaveProperty('as');
  expect(barOf(marks, 'n1')).toMatchObject({ as: 'e' });
});

test('what is said of a bar can be taken back without a trace', () => {
  const marks = frozen(twoLines());
  const change = { meter: { beats: 3, value: 4 }, leadIn: 1, silent: true, ending: [1], repeatEnd: 2 };
  const said = apply(marks, [{ type: 'set-bars', bars: ['a', 'e'], change }]);
  expect(barOf(said, 'e')).toMatchObject(change);
  const back = { meter: null, leadIn: null, silent: false, ending: [], repeatEnd: null };
  expect(apply(said, [{ type: 'set-bars', bars: ['a', 'e'], change: back }])).toEqual(marks);
});

test('a staff edge is moved as far as the least height and the page leave room', () => {
  const resized = (top: number, bottom: number) =>
    edit(frozen(twoLines()), { type: 'resize-system', system: 's1', top, bottom }, counter()).systems[0]!;
  expect(resized(0.12, twoLines().systems[0]!.bottom)).toMatchObject({ top: 0.12 });
  expect(resized(-1, twoLines().systems[0]!.bottom)).toMatchObject({ top: 0 });
  const low = resized(0.9, twoLines().systems[0]!.bottom);
  expect(low.bottom - low.top).toBeCloseTo(MIN_HEIGHT, 12);
});

test('a line that is put down as another leans as much', () => {
  const [first, ...others] = twoLines().systems;
  const askew = { ...twoLines(), version: 6, systems: [{ ...first!, lean: 0.01 }, ...others] } as const;
  const place = { page: 3, top: 0.1 };
  expect(copySystem(askew, 's1', place, counter()).systems.at(-1)).toMatchObject({ page: 3, lean: 0.01 });
  expect(copySystem(askew, 's2', place, counter()).systems.at(-1)).not.toHaveProperty('lean');
});

test('a line whose edge the player has moved is not said to lie askew any more', () => {
  const [first, ...others] = twoLines().systems;
  const askew = { ...twoLines(), version: 6, systems: [{ ...first!, lean: 0.01 }, ...others] } as const;
  const command = { type: 'resize-system', system: 's1', top: 0.12, bottom: first!.bottom } as const;
  expect(edit(frozen(askew), command, counter())).toMatchObject({ version: 1 });
});

test('meter and beat at the start are set, and set again change nothing', () => {
  const change = { meter: { beats: 6, value: 8 }, unit: 'eighth' } as const;
  const marks = apply(frozen(twoLines()), [{ type: 'set-start', change }]);
  expect(marks).toMatchObject(change);
  expect(apply(marks, [{ type: 'set-start', change }])).toBe(marks);
});

const refused: readonly [name: string, command: Edit, reason: string][] = [
  [
    'a box over another system',
    { type: 'add-system', page: 0, box: [0.1, 0.12, 0.9, 0.2], bars: 4 },
    'overlap',
  ],
  [
    'a box that is a dot',
    { type: 'add-system', page: 0, box: [0.1, 0.5, 0.101, 0.501], bars: 4 },
    'too-small',
  ],
  ['moving a system over another', { type: 'move-system', system: 's1', dx: 0, dy: 0.14 }, 'overlap'],
  ['taking out an outer line', { type: 'remove-line', system: 's1', line: 4 }, 'last-line'],
  ['a bar as itself', { type: 'as', bars: ['a', 'b'], from: 'b' }, 'itself'],
  ['more bars than there are to be as', { type: 'as', bars: ['a', 'b'], from: 'h' }, 'too-few-bars'],
  ['a bar that is not there', { type: 'set-bars', bars: ['zz'], change: { silent: true } }, 'not-there'],
];
test.each(refused)('refused: %s', (_, command, reason) => {
  expect(() => edit(frozen(twoLines()), command, counter())).toThrow(
    expect.objectContaining({ name: 'Refused', reason }),
  );
});
