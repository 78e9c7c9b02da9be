import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Plan, RouteBar } from '../../../src/core/chart/types.ts';
import { chartName, fileNameOf, isPdf, mayBePdf } from '../../../src/core/chart/naming.ts';
import { barNumbers } from '../../../src/core/log/card.ts';
import {
  asProblem,
  ChartProblem,
  problemCodes,
  problemFrom,
  problemParams,
} from '../../../src/host/problem.ts';
import { climbed, daysBetween, firstLine, sectionOf } from '../../../src/tunes/describe.ts';
import { problemLines } from '../../../src/tunes/problems.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
describe('what a PDF is called', () => {
  it.each([
    ['the last part of the path', 'https://a.org/x/Old%20Wall.pdf?v=2#p', null, 'Old Wall.pdf'],
    [
      'what the site sends',
      'https://a.org/get?id=3',
      'attachment; filename="Old \\"Wall\\".pdf"',
      'Old "Wall".pdf',
    ],
    ['without quotes', 'https://a.org/get', 'inline; filename=wall.pdf; size=3', 'wall.pdf'],
    [
      'the extended form first',
      'https://a.org/',
      "inline; filename=w.pdf; filename*=UTF-8''caf%C3%A9.pdf",
      'café.pdf',
    ],
    ['a broken escape as it stands', 'https://a.org/100%.pdf', null, '100%.pdf'],
    ['the host when there is no path', 'https://a.org:8080/', null, 'a.org:8080'],
  ])('%s', (_case, address, disposition, wanted) => {
    expect(fileNameOf(address, disposition)).toBe(wanted);
  });
  it('gives a chart its first name', () => {
    expect(chartName('Old_Harbour__Wall.PDF')).toBe('Old Harbour Wall');
    expect(chartName('.pdf')).toBe('.pdf');
  });
});

it.each([
  ['a header at the start', bytes('%PDF-1.7'), true],
  ['a header after some junk', bytes('x'.repeat(1019) + '%PDF-'), true],
  ['a header too late', bytes('x'.repeat(1020) + '%PDF-'), false],
  ['a web page', bytes('<!doctype html>'), false],
  ['nothing', bytes(''), false],
])('%s: a PDF is %s', (_case, start, wanted) => {
  expect(isPdf(start)).toBe(wanted);
});

it.each([
  ['https://a.org/wall.pdf', true],
  ['https://a.org/download?file=PDF', true],
  ['https://a.org/charts/17', true],
  ['https://a.org/', false],
  ['https://a.org/news/index.html?x=1', false],
])('%s may show a PDF: %s', (address, wanted) => {
  expect(mayBePdf(address)).toBe(wanted);
});

describe('problems', () => {
  const strings = JSON.parse(readFileSync('src/_locales/en/tunes.json', 'utf8'));
  it.each(problemCodes)('%s has one line that names the file and says what to do', (code) => {
    const { message } = strings[problemLines[code]];
    expect(message).toContain('$1');
    expect(message.split(/[.;:,] /).length).toBeGreaterThan(1);
  });
  it('has a line of its own for each code', () => {
    expect(new Set(Object.values(problemLines)).size).toBe(problemCodes.length);
  });
  it('travels in a fragment and back', () => {
    const problem = new ChartProblem('http', 'Löwe & Bär.pdf', '404');
    const back = problemFrom(new URLSearchParams(new URLSearchParams(problemParams(problem)).toString()));
    expect(back).toMatchObject({ code: 'http', about: 'Löwe & Bär.pdf', detail: '404' });
    expect(problemFrom(new URLSearchParams('problem=<b>&about=x'))).toBeNull();
  });
  it('knows a full disk, and gives anything else its own words', () => {
    const full = new Error('x');
    full.name = 'NotKept';
    expect(asProblem(full, 'a.pdf').code).toBe('no-room');
    expect(asProblem(Object.assign(full, { full: false }), 'a.pdf').code).toBe('failed');
    expect(asProblem(new TypeError('odd'), 'a.pdf')).toMatchObject({ code: 'failed', detail: 'odd' });
  });
});

describe('when a tune was played', () => {
  it('counts midnights, not hours', () => {
    expect(daysBetween(new Date(2026, 2, 3, 23, 59), new Date(2026, 2, 4, 0, 1))).toBe(1);
    expect(daysBetween(new Date(2026, 2, 4, 0, 1), new Date(2026, 2, 4, 23, 59))).toBe(0);
    expect(daysBetween(new Date(2026, 2, 28, 12), new Date(2026, 2, 30, 9))).toBe(2);
  });
});

describe('where a tune stands', () => {
  const bar = (number: number) => ({ number }) as RouteBar;
  const plan = {
    bars: [1, 2, 3, 4, 1, 2, 5, 6].map(bar),
    sections: [
      { name: 'A', from: 0, to: 1 },
      { name: 'A', from: 2, to: 3 },
      { name: 'B', from: 4, to: 7 },
    ],
  } as unknown as Plan;
  it('numbers bars as they are written, and a seam runs on into the first', () => {
    expect(barNumbers(plan, { from: 4, to: 7 })).toEqual([1, 6]);
    expect(barNumbers(plan, { from: 6, to: 9 })).toEqual([5, 2]);
  });
  it('names the section of a span, and which of that name', () => {
    expect(sectionOf(plan, { from: 2, to: 3 })).toEqual({ name: 'A', nth: 2 });
    expect(sectionOf(plan, { from: 4, to: 5 })).toEqual({ name: 'B', nth: 0 });
    expect(sectionOf(plan, { from: 1, to: 2 })).toBeNull();
  });
  it('counts a tempo as climbed when all its steps are done', () => {
    expect(
      climbed([
        { bpm: 60, done: 15, steps: 15 },
        { bpm: 70, done: 14, steps: 15 },
        { bpm: 80, done: 0, steps: 0 },
      ]),
    ).toBe(1);
  });
});

describe("the picture of a chart's first line", () => {
  const page = { width: 600, height: 800 };
  const system = { page: 0, top: 0.2, bottom: 0.25, left: 0.1 };
  const ratioOf = ([x0, y0, x1, y1]: readonly number[]) => ((x1! - x0!) * 600) / ((y1! - y0!) * 800);
  it('holds the staff with its chord symbols, in the shape asked for', () => {
    const box = firstLine(system, page, 4);
    expect(ratioOf(box)).toBeCloseTo(4);
    expect(box[1]).toBeLessThan(0.2);
    expect(box[3]).toBeGreaterThan(0.25);
    expect(box[0]).toBeLessThan(0.1);
  });
  it('never leaves the page', () => {
    const [, top, right] = firstLine({ ...system, top: 0.02, bottom: 0.1 }, page, 30);
    expect([top, right]).toEqual([0, 1]);
  });
  it('is the head of the page where nothing is boxed', () => {
    expect(ratioOf(firstLine(null, page, 6))).toBeCloseTo(6);
  });
});
