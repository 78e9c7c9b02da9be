import { describe, expect, test } from 'vitest';
import {
  defaultNumbers,
  formText,
  parsePlan,
  planOf,
  reachOf,
  staffStart,
  spanName,
  type Bar,
  type Marks,
} from '../../../src/core/chart/index.ts';
import { stepsOf } from '../../../src/core/ladder/index.ts';
import { aaba, marksOf, plainBars } from './marks-of.ts';

function plan(signs: Partial<Bar>[], extra: Partial<Marks> = {}) {
  return planOf(marksOf(signs, extra), defaultNumbers);
}
const twins = (p: ReturnType<typeof plan>) => p.bars.map((bar) => bar.twin);

describe('twins', () => {
  test('a bar that is repeated is its own twin', () => {
    expect(twins(plan([{}, { repeatEnd: 2 }, {}]))).toEqual([0, 1, 0, 1, 4]);
  });
  test('are transitive, in whatever order they were marked', () => {
    expect(twins(plan([{ as: 'b4' }, {}, { as: 'b1' }, {}]))).toEqual([0, 1, 0, 0]);
  });
  test('marked in a circle or as a bar that is gone do no harm', () => {
    expect(twins(plan([{ as: 'b2' }, { as: 'b1' }, { as: 'gone' }]))).toEqual([0, 0, 2]);
  });
  test('a tie over its right edge makes a bar no twin of one without', () => {
    // b3 is as b1 but tied into b4, and b4 is as b2 but begins inside that tie.
    expect(twins(plan([{}, {}, { as: 'b1', tied: true }, { as: 'b2' }]))).toEqual([0, 1, 2, 3]);
  });
  test('bars that agree in their ties stay twins', () => {
    expect(twins(plan([{ tied: true }, {}, { as: 'b1', tied: true }, { as: 'b2' }]))).toEqual([0, 1, 0, 1]);
  });
  test('a tie into an ending holds for that time only', () => {
    const signs = [{ tied: true as const }, { ending: [1], repeatEnd: 2 }, { ending: [2], as: 'b2' }];
    expect(twins(plan(signs))).toEqual([0, 1, 0, 1]);
    expect(twins(plan([{ pickup: 1, tied: true }, {}, { repeatEnd: 2 }]))).toEqual([0, 1, 2, 1]);
  });
  test('bars of another length are none', () => {
    expect(twins(plan([{}, { as: 'b1', meter: { beats: 3, value: 4 } }]))).toEqual([0, 1]);
  });
  test('silence holds for all of them', () => {
    expect(plan([{}, { as: 'b1', silent: true }]).bars.map((bar) => bar.silent)).toEqual([true, true]);
  });
});

describe('sections along the route', () => {
  test('without marks all is one section', () => {
    expect(plan([{}, { repeatEnd: 2 }]).sections).toEqual([{ from: 0, to: 3, name: '' }]);
  });
  test('a section that repeats appears twice', () => {
    const p = plan([{ section: 'A' }, { repeatEnd: 2 }, { section: 'B' }, {}]);
    expect(p.sections).toEqual([
      { from: 0, to: 1, name: 'A' },
      { from: 2, to: 3, name: 'A' },
      { from: 4, to: 5, name: 'B' },
    ]);
    expect(formText(p)).toBe('A A B');
  });
  test('a repeat that leads back into the middle of an earlier section begins it anew', () => {
    const p = plan([{ section: 'A' }, { repeatStart: true }, { section: 'B', repeatEnd: 2 }]);
    expect(formText(p)).toBe('A B A B');
  });
  test('a mark on the pickup belongs to the first full bar', () => {
    expect(formText(plan([{ pickup: 1, section: 'A' }, {}, { section: 'B' }]))).toBe('A B');
  });
  test('A A B A as written', () => {
    const p = planOf(aaba(), defaultNumbers);
    expect(formText(p)).toBe('A A B A');
    expect(p.sections.map((section) => section.from)).toEqual([0, 8, 16, 24]);
  });
});

describe('bars of the route', () => {
  test('numbers count from the first full bar; the pickup leads in place 0 only', () => {
    const p = plan([{ pickup: 1 }, {}, { repeatEnd: 2 }]);
    expect(p.bars.map((bar) => bar.number)).toEqual([1, 2, 1, 2]);
    expect(p.pickup).toMatchObject({ bar: 'b1', beats: 1 });
    expect(p.bars.map((bar) => bar.leadIn)).toEqual([1, 0, 0, 0]);
  });
  test('meter and unit carry on until they change; a new meter brings its own unit', () => {
    const p = plan([{}, { meter: { beats: 6, value: 8 } }, {}, { unit: 'eighth' }], { unit: 'half' });
    expect(p.bars.map((bar) => [bar.unit, bar.beats])).toEqual([
      ['half', 2],
      ['dotted-quarter', 2],
      ['dotted-quarter', 2],
      ['eighth', 6],
    ]);
  });
  test('a bar broken over two lines has two boxes, and the tie of its second', () => {
    const p = plan([{}, {}, {}, { silent: true }, { continues: true, tied: true }]);
    expect(p.bars).toHaveLength(4);
    expect(p.bars[3]).toMatchObject({ bar: 'b4', tied: true, silent: false });
    expect(p.bars[3]!.boxes.map((placed) => placed.box[1])).toEqual([0.1, 0.2]);
  });
  test('a multi-bar rest is so many silent places of one bar', () => {
    // MusicXML 4.0, example "multiple-rest": <multiple-rest>4</multiple-rest> in measure 13 stands for 13 to 16.
    const p = plan([...plainBars(12), { restBars: 4 }, {}]);
    expect(p.bars.slice(12).map((bar) => [bar.bar, bar.number, bar.silent])).toEqual([
      ['b13', 13, true],
      ['b13', 14, true],
      ['b13', 15, true],
      ['b13', 16, true],
      ['b14', 17, false],
    ]);
    expect(parsePlan(JSON.parse(JSON.stringify(p)))).toEqual(p);
    expect(spanName(p, { from: 11, to: 16 }).parts).toEqual([{ from: 12, to: 17, again: null }]);
  });
  test('a rest is no step alone, and no chain ends inside it', () => {
    const spans = stepsOf(plan([{}, { restBars: 4 }, {}])).map(({ from, to }) => [from, to]);
    expect(spans).toEqual([
      [0, 0],
      [0, 4],
      [5, 5],
      [0, 5],
    ]);
  });
  test('a jump and a coda begin sections', () => {
    const signs = [
      { section: 'A' },
      { toCoda: true as const },
      { section: 'B', jump: 'dc-al-coda' as const },
      { coda: true as const },
    ];
    expect(formText(plan(signs))).toBe('A B A Coda');
    expect(plan([{}, { jump: 'dc' }]).sections.map(({ from, to }) => [from, to])).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });
  test('the pickup leads in the first bar only if the route begins there', () => {
    const pickup = [{ pickup: 1 }, {}, { section: 'B' }, {}];
    const byHand = [
      { from: 'b3', to: 'b4' },
      { from: 'b2', to: 'b2' },
    ];
    expect(plan(pickup).pickup).toMatchObject({ bar: 'b1' });
    expect(plan(pickup, { byHand })).toMatchObject({ pickup: null, bars: [{ leadIn: 0 }, {}, {}] });
  });
  test('no bars, no route', () => {
    expect(planOf(marksOf([]), defaultNumbers)).toMatchObject({ bars: [], sections: [], pickup: null });
  });
  test('what is made can be kept and read again', () => {
    const p = planOf(aaba(), defaultNumbers);
    expect(parsePlan(JSON.parse(JSON.stringify(p)))).toEqual(p);
  });
});

describe('reach', () => {
  const system = (id: string, page: number, top: number, bottom: number) => ({
    id,
    page,
    top,
    bottom,
    bars: [],
  });
  const [a, b, c] = [system('a', 0, 0.1, 0.14), system('b', 0, 0.17, 0.21), system('c', 0, 0.6, 0.64)];
  const marks = { systems: [c, a, b, system('d', 1, 0.5, 0.54)] };
  test('goes half the way to the neighbours, in whatever order they were boxed', () => {
    const [top, bottom] = reachOf(marks, b);
    expect(top).toBeCloseTo((0.14 + 0.17) / 2, 12);
    expect(bottom).toBeCloseTo(0.21 + 1.2 * 0.04, 12);
  });
  test('is at most 1.2 staff heights where there is room', () => {
    expect(reachOf(marks, c)[0]).toBeCloseTo(0.6 - 1.2 * 0.04, 12);
    expect(reachOf(marks, a)[0]).toBeCloseTo(0.1 - 1.2 * 0.04, 12);
  });
  test('counts the height of one staff where a system has two', () => {
    const piano = system('p', 0, 0.4, 0.478);
    expect(reachOf({ systems: [piano] }, piano)[0]).toBeCloseTo(0.4 - 1.2 * 0.024, 12);
  });
  test('never leaves the page', () => {
    const edge = system('e', 2, 0.01, 0.99);
    expect(reachOf({ systems: [edge] }, edge)).toEqual([0, 1]);
  });
});

test('a staff begins where the lines near by begin, though its first bar opens behind a clef', () => {
  const line = (page: number, x0: number) => ({
    id: `${x0}`,
    page,
    top: 0,
    bottom: 1,
    bars: [{ id: 'b', x0, x1: 1 }],
  });
  const systems = [line(0, 0.1), line(0, 0.18), line(0, 0.4), line(1, 0.17)];
  expect(systems.map((system) => staffStart({ systems }, system))).toEqual([0.1, 0.1, 0.4, 0.17]);
});

describe('how players say a span', () => {
  const repeated = plan([{ section: 'A' }, {}, { repeatEnd: 2 }, { section: 'B' }, {}]);
  const part = (from: number, to: number, again: object | null = null) => ({ from, to, again });
  test('bars by their written numbers', () => {
    expect(spanName(repeated, { from: 0, to: 2 })).toEqual({ parts: [part(1, 3)], sections: null });
  });
  test('second A where the same bars come again', () => {
    expect(spanName(repeated, { from: 4, to: 5 }).parts).toEqual([part(2, 3, { section: 'A', which: 2 })]);
  });
  test('second time where no section has a name', () => {
    const p = plan([{}, { repeatEnd: 2 }]);
    expect(spanName(p, { from: 3, to: 3 }).parts).toEqual([part(2, 2, { section: '', which: 2 })]);
  });
  test('bars written out need no such word', () => {
    const p = planOf(aaba(), defaultNumbers);
    expect(spanName(p, { from: 13, to: 15 }).parts).toEqual([part(14, 16)]);
  });
  test('sections by their names, and a seam over the end in two parts', () => {
    expect(spanName(repeated, { from: 0, to: 7 }).sections).toEqual(['A', 'A', 'B']);
    expect(spanName(repeated, { from: 6, to: 9 }).parts).toEqual([part(4, 5), part(1, 2)]);
  });
  test('one section alone is said by its bars', () => {
    expect(spanName(plan(plainBars(8)), { from: 0, to: 7 })).toEqual({ parts: [part(1, 8)], sections: null });
  });
});
