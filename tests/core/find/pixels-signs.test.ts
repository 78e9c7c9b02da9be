import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { routeFrom } from '../../../src/core/chart/route.ts';
import type { Marks } from '../../../src/core/chart/types.ts';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import { meaningOf, SIGNS } from '../../../src/core/find/pixels/sign-shapes.ts';
import { openInk } from '../../../src/pdf/node.ts';

const at = (path: string) => readFileSync(new URL(`../../../${path}`, import.meta.url));

async function found(path: string) {
  const file = await openInk(new Uint8Array(at(path)));
  const page = findPixels(await file.grey(0, 150), 0, { width: 595, height: 842 });
  await file.destroy();
  return page;
}

test('first and second endings of a page of pixels', async () => {
  const marks = JSON.parse(at('sample-pdfs/endings.marks.json').toString()) as Marks;
  const chart = wholeChart([await found('sample-pdfs/endings.pdf')]);
  const endings = ({ systems }: Marks) =>
    systems.flatMap(({ bars }) => bars.map(({ ending = [] }) => ending.join()));
  expect(endings(chart.marks)).toEqual(endings(marks));
  expect(endings(marks).filter((one) => one !== '')).toHaveLength(4);
  const length = (of: Marks) => routeFrom(of).places.length;
  expect(length(chart.marks)).toBe(length(marks));
});

const saidOn = async (path: string) => {
  const page = await found(path);
  const signs = page.signs.filter(({ kind }) => kind !== 'meter');
  return {
    page,
    said: signs.map(({ kind, al = '', text = '', bar }) => `${kind} ${al}${text} ${bar}`).sort(),
  };
};
const bars = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

// Both engraved by LilyPond from tests/corpus, seeds 4 and 14, of which nothing was learnt.
test('Fine and D.C. al Fine on a page of pixels make its route', async () => {
  const { page, said } = await saidOn('tests/fixtures/find/al-fine.pdf');
  const written = ['dc fine 15', 'fine  7', 'section A 0', 'section B 8'];
  expect(said.filter((one) => !written.includes(one))).toEqual([]);
  expect(said).toEqual(expect.arrayContaining(['dc fine 15', 'fine  7']));
  expect(wholeChart([page]).route).toEqual([...bars(0, 15), ...bars(0, 7)]);
});

test('of segno, coda and their words most are said, and none wrong', async () => {
  const { said } = await saidOn('tests/fixtures/find/al-coda.pdf');
  const written = ['coda  20', 'ds coda 19', 'section A 4', 'section B 12', 'segno  4', 'to-coda  9'];
  expect(said.filter((one) => !written.includes(one))).toEqual([]);
  expect(said.length).toBeGreaterThanOrEqual(4);
});

describe('pages without signs', () => {
  test.each(['waltz', 'first', 'scanned'])('of %s none is said', async (name) => {
    const { signs, systems } = await found(`sample-pdfs/${name}.pdf`);
    const jumps = signs.filter(({ kind }) => kind !== 'meter' && kind !== 'section');
    expect(jumps).toEqual([]);
    expect(systems.flatMap(({ bars }) => bars).every(({ ending }) => ending === undefined)).toBe(true);
  });
});

test('every answer but none says something of the form', () => {
  for (const written of SIGNS) expect(meaningOf(written) === null).toBe(written === 'none');
});
