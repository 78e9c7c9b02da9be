import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, test } from 'vitest';
import {
  NotReadable,
  defaultNumbers,
  parseMarks,
  parsePlan,
  planOf,
  withVersion,
} from '../../../src/core/chart/index.ts';
import { turnOn, turnsOf } from '../../../src/core/chart/turn.ts';
import { aaba, marksOf } from './marks-of.ts';

/** A deep copy as JSON with one change made to it. */
function changed(value: unknown, change: (copy: any) => void): unknown {
  const copy = JSON.parse(JSON.stringify(value));
  change(copy);
  return copy;
}

const root = resolve(import.meta.dirname, '../../..');
/** Marks as each version wrote them: literal, never changed. */
const literal = (version: number): any =>
  JSON.parse(readFileSync(join(root, `tests/fixtures/chart/marks-v${version}.json`), 'utf8'));

describe('marks of every version there was', () => {
  const schema = JSON.parse(readFileSync(join(root, 'src/core/log/save.schema.json'), 'utf8'));
  const valid = new Ajv({ strict: true, formats: { 'date-time': true } }).compile({
    ...schema,
    $ref: '#/$defs/marks',
    type: undefined,
    required: undefined,
    properties: undefined,
    additionalProperties: undefined,
  });
  test.each([1, 2, 3, 4, 5, 6])(
    'version %i is read as it was written, and holds to the JSON Schema',
    (version) => {
      expect(parseMarks(literal(version))).toEqual(literal(version));
      expect(valid(literal(version)), JSON.stringify(valid.errors?.[0])).toBe(true);
    },
  );
  test('version 1 has no word for what is new in version 2', () => {
    for (const key of ['segno', 'coda', 'toCoda', 'fine', 'jump', 'restBars', 'when', 'found']) {
      const bar = literal(2).systems[0].bars.find((each: any) => each[key] !== undefined);
      const old = changed(literal(1), (m) => (m.systems[0].bars[1][key] = bar[key]));
      expect(() => parseMarks(old), key).toThrow(NotReadable);
      expect(valid(old), key).toBe(false);
    }
    for (const key of ['choruses', 'conventions', 'byHand']) {
      const old = changed(literal(1), (m) => (m[key] = literal(2)[key]));
      expect(() => parseMarks(old), key).toThrow(NotReadable);
      expect(valid(old), key).toBe(false);
    }
  });
  test('version 2 has no word for pages that are turned', () => {
    const old = { ...literal(2), turn: literal(3).turn };
    expect(() => parseMarks(old)).toThrow(NotReadable);
    expect(valid(old)).toBe(false);
  });
  test('version 3 turns all pages by as much, version 4 each by itself', () => {
    const old = { ...literal(3), turns: literal(4).turns };
    expect(() => parseMarks(old)).toThrow(NotReadable);
    expect(valid(old)).toBe(false);
    const pages = (version: number) =>
      [0, 1, 2].map((page) => turnOn(turnsOf(parseMarks(literal(version))), page));
    expect(pages(3)).toEqual([90, 90, 90]);
    expect(pages(4)).toEqual([0, 90, 270]);
  });
  test('version 4 has no word for bars that are told apart', () => {
    const old = { ...literal(4), unlike: literal(5).unlike };
    expect(() => parseMarks(old)).toThrow(NotReadable);
    expect(valid(old)).toBe(false);
    const wrong = { ...literal(5), unlike: [['a']] };
    expect(() => parseMarks(wrong)).toThrow(NotReadable);
    expect(valid(wrong)).toBe(false);
  });
  test('version 5 has no word for a line that lies askew', () => {
    const old = { ...literal(6), version: 5 };
    expect(() => parseMarks(old)).toThrow(NotReadable);
    expect(valid(old)).toBe(false);
    const more = changed(literal(6), (m) => (m.systems[0].lean = 0.06));
    expect(() => parseMarks(more)).toThrow(/leans more/);
  });
  test.each([{ '-1': 90 }, { '01': 90 }, { 1: 45 }, { first: 90 }])('no page is turned by %o', (turns) => {
    const wrong = { ...literal(4), turns };
    expect(() => parseMarks(wrong)).toThrow(NotReadable);
    expect(valid(wrong)).toBe(false);
  });
  test('are kept under the lowest version that can say it', () => {
    expect(withVersion(literal(1))).toEqual(literal(1));
    expect(withVersion({ ...literal(1), version: 2 })).toEqual(literal(1));
    expect(withVersion({ ...literal(2), version: 1 })).toEqual(literal(2));
    expect(withVersion({ ...literal(3), version: 1 })).toEqual(literal(3));
    expect(withVersion({ ...literal(4), version: 1 })).toEqual(literal(4));
    expect(withVersion({ ...literal(5), version: 1 })).toEqual(literal(5));
    expect(withVersion({ ...literal(6), version: 1 })).toEqual(literal(6));
  });
  test('a version to come is said to be newer', () => {
    expect(() => parseMarks({ ...literal(6), version: 7 })).toThrow(/update first/);
  });
});

describe('marks from outside', () => {
  test('come back as they were', () => {
    expect(parseMarks(JSON.parse(JSON.stringify(aaba())))).toEqual(aaba());
  });
  const wrong: [name: string, change: (marks: any) => void][] = [
    ['another version', (m) => (m.version = 7)],
    ['an attribute that this release does not know', (m) => (m.systems[0].bars[0].leap = 'dc')],
    ['a box outside the page', (m) => (m.systems[0].bars[0].x0 = -0.1)],
    ['a bar without width', (m) => (m.systems[0].bars[0].x1 = m.systems[0].bars[0].x0)],
    ['a system without height', (m) => (m.systems[0].bottom = m.systems[0].top)],
    ['bars that overlap', (m) => (m.systems[0].bars[0].x1 = 0.35)],
    ['the same bar twice', (m) => (m.systems[0].bars[0].id = 'b2')],
    ['no number at all', (m) => (m.systems[0].top = null)],
  ];
  test.each(wrong)('with %s are refused in one line', (_, change) => {
    const read = () => parseMarks(changed(marksOf([{}, {}]), change));
    expect(read).toThrow(NotReadable);
    expect(read).toThrow(/^marks[^\n]*$/);
  });
});

describe('a plan from outside', () => {
  const plan = planOf(aaba(), defaultNumbers);
  const wrong: [name: string, change: (plan: any) => void][] = [
    ['a twin that comes later', (p) => (p.bars[0].twin = 3)],
    ['a twin that is itself a twin of another', (p) => (p.bars[30].twin = 9)],
    ['sections with a hole', (p) => (p.sections[1].from = 9)],
    ['a bar in the wrong section', (p) => (p.bars[9].section = 0)],
    ['sections that end early', (p) => p.sections.pop()],
    ['a streak of none', (p) => (p.numbers.streak = 0)],
    ['a tempo step of none', (p) => (p.numbers.step = 0)],
  ];
  test.each(wrong)('with %s is refused', (_, change) => {
    expect(() => parsePlan(changed(plan, change))).toThrow(NotReadable);
  });
});
