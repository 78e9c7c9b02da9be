/**
 * Verovio: reads the tune as MusicXML, draws SVG, and names every measure, staff and bar line in it by class;
 * what kind a bar line is stands in the attributes of its measure.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { truthOf, type DrawnPage, type DrawnSystem, type Truth } from '../truth.ts';
import { lookOf, type Look } from '../tunes/look.ts';
import type { Tune } from '../tunes/types.ts';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import { musicXml } from './musicxml.ts';
import { POINTS_A_PIXEL, print } from './print.ts';

const FONTS = ['Leipzig', 'Bravura', 'Leland', 'Petaluma', 'Gootville'];
const PAGES = { a4: [2100, 2970], letter: [2159, 2794], a4landscape: [2970, 2100] } as const;

const LINES: Record<string, BarLineKind> = {
  rptend: 'repeat-end',
  rptstart: 'repeat-start',
  rptboth: 'repeat-both',
  end: 'final',
  dbl: 'double',
  single: 'single',
};

interface Measure {
  left: string;
  right: string;
  /** For each bar line drawn in it: left and right edge. */
  lines: [number, number][];
}

/** The tags of an SVG in order; what Verovio draws is read off them without a browser. */
function pageOf(svg: string): DrawnPage {
  const [, pixelsWide, pixelsHigh] = /width="(\S+)px" height="(\S+)px"/.exec(svg)!.map(Number) as [
    number,
    number,
    number,
  ];
  const [, wide] = /viewBox="0 0 (\S+) (\S+)"/.exec(svg)!.map(Number) as [number, number];
  const [, marginX, marginY] = /page-margin" transform="translate\((\S+), (\S+)\)/.exec(svg)!.map(Number) as [
    number,
    number,
    number,
  ];
  const width = pixelsWide * POINTS_A_PIXEL;
  const scale = width / wide;
  const systems = svg
    .split(/<g [^>]*class="system"/)
    .slice(1)
    .map((text) => systemOf(text, scale, marginX, marginY));
  return { width, height: pixelsHigh * POINTS_A_PIXEL, systems };
}

function systemOf(text: string, scale: number, marginX: number, marginY: number): DrawnSystem {
  const x = (value: number) => (value + marginX) * scale;
  const y = (value: number) => (value + marginY) * scale;
  const staffs = new Map<number, { x0: number; x1: number; bottom: number }>();
  const measures = text
    .split(/(?=<g [^>]*class="measure")/)
    .slice(1)
    .map((part): Measure => {
      for (const [, lines] of part.matchAll(
        /class="staff"[^>]*>((?:\s*<path d="M\S+ \S+ L\S+ \S+"[^>]*>){5})/g,
      )) {
        const ends = [...lines!.matchAll(/M(\S+) (\S+) L(\S+) (\S+)"/g)].map((match) =>
          match.slice(1).map(Number),
        );
        const top = ends[0]![1]!;
        const known = staffs.get(top);
        staffs.set(top, {
          x0: Math.min(known?.x0 ?? Infinity, ends[0]![0]!),
          x1: Math.max(known?.x1 ?? 0, ends[0]![2]!),
          bottom: ends[4]![1]!,
        });
      }
      const lines = [...part.matchAll(/class="barLine"[^>]*>([\s\S]*?)<\/g>/g)].flatMap(
        ([, body]): [number, number][] => {
          const strokes = [...body!.matchAll(/d="M(\S+) \S+ L\S+ \S+" stroke-width="(\S+)"/g)].map(
            ([, at, w]) => [Number(at) - Number(w) / 2, Number(at) + Number(w) / 2],
          );
          return strokes.length === 0
            ? []
            : [[Math.min(...strokes.map(([a]) => a!)), Math.max(...strokes.map(([, b]) => b!))]];
        },
      );
      const attribute = (name: string) => RegExp(`^<g [^>]*data-${name}="([^"]*)"`).exec(part)?.[1] ?? '';
      return { left: attribute('left'), right: attribute('right'), lines };
    });
  const lines: DrawnSystem['lines'] = [];
  measures.forEach((measure, i) => {
    const right = measure.lines.at(-1);
    const left = measure.lines.length > 1 ? measure.lines[0] : undefined;
    if (left) lines.push({ x0: x(left[0]), x1: x(left[1]), kind: LINES[measure.left] ?? 'single' });
    const next = measures[i + 1];
    const isBoth = measure.right === 'rptend' && next?.left === 'rptstart' && next.lines.length === 1;
    const startsNext = measure.right !== 'rptend' && next?.left === 'rptstart' && next.lines.length === 1;
    const kind = isBoth ? 'repeat-both' : startsNext ? 'repeat-start' : (LINES[measure.right] ?? 'single');
    if (right) lines.push({ x0: x(right[0]), x1: x(right[1]), kind });
  });
  const tops = [...staffs.keys()].sort((a, b) => a - b);
  const first = staffs.get(tops[0]!)!;
  return {
    top: y(tops[0]!),
    bottom: y(staffs.get(tops.at(-1)!)!.bottom),
    x0: x(first.x0),
    x1: x(first.x1),
    staves: tops.length,
    lines,
  };
}

/** Verovio's own values times those of a look, in the bounds that it allows. */
const optionsOf = ({ staffLine, barLine, thickLine, stem, gap, dots }: Look) => ({
  staffLineWidth: bounded(0.15 * staffLine, 0.1, 0.3),
  barLineWidth: bounded(0.3 * barLine, 0.1, 0.8),
  thickBarlineThickness: bounded(thickLine, 0.5, 2),
  stemWidth: bounded(0.2 * stem, 0.1, 0.5),
  barLineSeparation: bounded(0.8 * gap, 0.5, 2),
  repeatBarLineDotSeparation: bounded(0.36 * dots, 0.1, 1),
});
const bounded = (value: number, least: number, most: number) => Math.max(least, Math.min(most, value));

/** Engraves tunes into `folder` as NAME.pdf; gives Verovio's own account of each. */
export async function engrave(tunes: readonly Tune[], folder: string): Promise<Truth[]> {
  mkdirSync(folder, { recursive: true });
  const toolkit = new VerovioToolkit(await createVerovioModule());
  const jobs = tunes.map((tune) => {
    const [pageWidth, pageHeight] = PAGES[tune.paper];
    const scale = 40;
    toolkit.setOptions({
      pageWidth,
      pageHeight,
      scale,
      unit: 9 * tune.size * 0.9,
      breaks: 'auto',
      footer: 'none',
      font: FONTS[tune.seed % FONTS.length]!,
      smuflTextFont: 'embedded',
      ...optionsOf(lookOf(tune.seed)),
      svgAdditionalAttribute: ['measure@right', 'measure@left'],
    });
    toolkit.loadData(musicXml(tune));
    const pages = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1));
    return { tune, pages, width: (pageWidth * scale) / 100, height: (pageHeight * scale) / 100 };
  });
  const pdfs = await print(jobs);
  return jobs.flatMap(({ tune, pages }, i) => {
    writeFileSync(join(folder, `${tune.name}.pdf`), pdfs[i]!);
    writeFileSync(join(folder, `${tune.name}.svg`), pages.join('\n'));
    try {
      return [truthOf(tune, 'verovio', pages.map(pageOf))];
    } catch (error) {
      process.stderr.write(`${String(error)}\n`);
      return [];
    }
  });
}
