import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import type { Marks } from '../../src/core/chart/types.ts';

interface Sample {
  file: string;
  title: string;
  proves: string;
  source: string;
  sha256: string;
  pages: number;
}
const folder = resolve(import.meta.dirname, '../../sample-pdfs');
const read = (file: string) => readFileSync(resolve(folder, file));
const index = JSON.parse(read('index.json').toString()) as { licence: string; samples: Sample[] };

describe('the sample charts', () => {
  it('are all in the index', () => {
    const pdfs = readdirSync(folder).filter((file) => file.endsWith('.pdf'));
    expect(index.samples.map((sample) => sample.file).sort()).toEqual(pdfs.sort());
    expect(index.licence).toBe('CC0-1.0');
  });

  describe.each(index.samples)('$file', (sample) => {
    const marks = JSON.parse(read(sample.file.replace('.pdf', '.marks.json')).toString()) as Marks;
    const bars = marks.systems.flatMap((system) => system.bars);

    it('has the bytes of its hash, and its source', async () => {
      expect(createHash('sha256').update(read(sample.file)).digest('hex')).toBe(sample.sha256);
      expect(existsSync(resolve(folder, sample.source))).toBe(true);
      expect((await PDFDocument.load(read(sample.file))).getPageCount()).toBe(sample.pages);
    });

    it('has marks in reading order, on its pages, without overlap', () => {
      let last = { page: 0, bottom: 0 };
      for (const system of marks.systems) {
        expect(system.page).toBeLessThan(sample.pages);
        expect(system.page > last.page || system.top > last.bottom).toBe(true);
        expect(system.bottom).toBeGreaterThan(system.top);
        let edge = 0;
        for (const bar of system.bars) {
          expect(bar.x0).toBeGreaterThanOrEqual(edge);
          expect(bar.x1).toBeGreaterThan(bar.x0);
          edge = bar.x1;
        }
        expect(edge).toBeLessThan(1);
        last = system;
      }
    });

    it('names every bar once, and twins that exist', () => {
      const ids = bars.map((bar) => bar.id);
      expect(new Set(ids).size).toBe(ids.length);
      for (const bar of bars) if (bar.as !== undefined) expect(ids).toContain(bar.as);
    });
  });

  it.each([
    ['first.pdf', 8],
    ['aaba.pdf', 32],
    ['endings.pdf', 20],
    ['waltz.pdf', 17],
    ['two-pages.pdf', 44],
    ['scanned.pdf', 16],
    ['rotated.pdf', 17],
  ])('%s has %i written bars', (file, count) => {
    const marks = JSON.parse(read(file.replace('.pdf', '.marks.json')).toString()) as Marks;
    expect(marks.systems.flatMap((system) => system.bars)).toHaveLength(count);
  });

  it('holds a scan that is nothing but an image, and a page that is turned and cropped', async () => {
    const scanned = await PDFDocument.load(read('scanned.pdf'));
    const resources = scanned.getPage(0).node.Resources()?.toString() ?? '';
    expect(resources).toMatch(/\/XObject <<\s+\/Image/);
    expect(resources).toMatch(/\/Font <<\s*>>/);
    const rotated = (await PDFDocument.load(read('rotated.pdf'))).getPage(0);
    expect(rotated.getRotation().angle).toBe(90);
    expect(rotated.getCropBox()).not.toEqual(rotated.getMediaBox());
  });
});
