/**
 * abcm2ps: reads the tune in ABC, writes PostScript, which Ghostscript makes a PDF of, and the same pages as SVG
 * with annotations (-A): behind the strokes and dots of each bar line stands that they are one.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import { truthOf, type DrawnPage, type DrawnSystem, type Truth, type TrueLine } from '../truth.ts';
import { chordsOnNotes } from '../tunes/index.ts';
import type { Tune } from '../tunes/types.ts';
import { abcOf } from './abc.ts';
import { POINTS_A_PIXEL } from './print.ts';

const CENTIMETRES = { a4: [21, 29.7], letter: [21.59, 27.94], a4landscape: [29.7, 21] } as const;
const POINTS_A_CENTIMETRE = 72 / 2.54;

const directives = ({ paper, size, seed }: Tune) => [
  `%%pagewidth ${CENTIMETRES[paper][0]}cm`,
  `%%pageheight ${CENTIMETRES[paper][1]}cm`,
  `%%scale ${(0.75 * size).toFixed(3)}`,
  '%%partsbox 1',
  `%%stretchlast ${seed % 3 === 0 ? 0 : 1}`,
  ...(seed % 4 === 1 ? ['%%indent 1cm'] : []),
];

/** Width of a thin stroke, in its own units. */
const THIN = 1.5;

interface Stroke {
  readonly x: number;
  readonly y: number;
  /** In the units of its group, before scaling. */
  readonly width: number;
}

interface Staff {
  readonly x0: number;
  readonly x1: number;
  readonly top: number;
  readonly bottom: number;
}

/** What a bar line is by the strokes and pairs of dots that abcm2ps set for it. */
function kindOf(strokes: readonly Stroke[], dots: readonly number[]): BarLineKind {
  const [first, last] = [Math.min(...strokes.map(({ x }) => x)), Math.max(...strokes.map(({ x }) => x))];
  const before = dots.some((x) => x < first);
  const after = dots.some((x) => x > last);
  if (before && after) return 'repeat-both';
  if (before || after) return before ? 'repeat-end' : 'repeat-start';
  if (strokes.some(({ width, x }) => width > THIN && x === last)) return 'final';
  return strokes.length > 1 ? 'double' : 'single';
}

/** What one page of the SVG holds, read off its tags in their order. */
function pageOf(svg: string, staves: number): DrawnPage {
  const [, wide, high] = /width="(\S+)px" height="(\S+)px"/.exec(svg)!;
  const drawn: Staff[] = [];
  const lines: (TrueLine & { y: number })[] = [];
  let scale = POINTS_A_PIXEL;
  let strokes: Stroke[] = [];
  let dots: number[] = [];
  const tags =
    /<g stroke-width[^>]*>|<path class="stroke" stroke-width="(\S+)"\s+d="M(\S+) (\S+)v\S+"\/>|<use x="(\S+)" y="\S+" xlink:href="#rdots"\/>|<abc type="(\S)"[^>]* x="(\S+)"[^>]*>|<path d="m(\S+) (\S+)\s+h(\S+)((?:\s+M\S+ \S+\s+h\S+){4})\s*" class="stroke"\/>/g;
  for (const [tag, width, x, y, dot, type, from, left, bottom, length, others] of svg.matchAll(tags)) {
    if (tag.startsWith('<g')) scale = POINTS_A_PIXEL * Number(/scale\((\S+?)\)/.exec(tag)?.[1] ?? 1);
    else if (width !== undefined)
      strokes.push({ x: Number(x) * scale, y: Number(y) * scale, width: Number(width) });
    else if (dot !== undefined) dots.push(Number(dot) * scale);
    else if (type !== undefined) {
      // The line that joins the staves at their left end is drawn before the first bar line.
      strokes = strokes.filter((stroke) => stroke.x >= Number(from) * scale);
      if (type === 'B' && strokes.length > 0)
        lines.push({
          x0: Math.min(...strokes.map((stroke) => stroke.x - (stroke.width * scale) / 2)),
          x1: Math.max(...strokes.map((stroke) => stroke.x + (stroke.width * scale) / 2)),
          y: strokes[0]!.y,
          kind: kindOf(strokes, dots),
        });
      [strokes, dots] = [[], []];
    } else {
      const top = Number(/M\S+ (\S+)\s+h\S+\s*$/.exec(others!)![1]);
      drawn.push({
        x0: Number(left) * scale,
        x1: (Number(left) + Number(length)) * scale,
        top: top * scale,
        bottom: Number(bottom) * scale,
      });
    }
  }
  drawn.sort((a, b) => a.top - b.top);
  const systems: DrawnSystem[] = [];
  for (let i = 0; i + staves <= drawn.length; i += staves) {
    const [first, last] = [drawn[i]!, drawn[i + staves - 1]!];
    // Lines are drawn from the bottom of the staff that they belong to, upwards.
    const own = lines.filter(({ y }) => y >= first.top && y <= first.bottom + 1);
    systems.push({
      top: first.top,
      bottom: last.bottom,
      x0: first.x0,
      x1: first.x1,
      staves,
      lines: own.map(({ x0, x1, kind }) => ({ x0, x1, kind })),
    });
  }
  return { width: Number(wide) * POINTS_A_PIXEL, height: Number(high) * POINTS_A_PIXEL, systems };
}

/** Engraves tunes into `folder` as NAME.pdf; gives abcm2ps's own account of each. */
export function engrave(tunes: readonly Tune[], folder: string): Truth[] {
  mkdirSync(folder, { recursive: true });
  return tunes.map(chordsOnNotes).flatMap((tune) => {
    const source = abcOf(tune, directives(tune));
    const path = (end: string) => join(folder, `${tune.name}.${end}`);
    writeFileSync(path('abc'), source);
    const run = (program: string, ...args: string[]) => execFileSync(program, args, { stdio: 'pipe' });
    run('abcm2ps', path('abc'), '-q', '-A', '-X', '-O', path('xhtml'));
    run('abcm2ps', path('abc'), '-q', '-O', path('ps'));
    const [wide, high] = CENTIMETRES[tune.paper].map((size) => (size * POINTS_A_CENTIMETRE).toFixed(2));
    const size = [`-dDEVICEWIDTHPOINTS=${wide}`, `-dDEVICEHEIGHTPOINTS=${high}`, '-dFIXEDMEDIA'];
    run('gs', '-q', '-dBATCH', '-dNOPAUSE', '-sDEVICE=pdfwrite', ...size, `-o${path('pdf')}`, path('ps'));
    const pages = readFileSync(path('xhtml'), 'utf8').split('<svg ').slice(1);
    try {
      return [
        truthOf(
          tune,
          'abcm2ps',
          pages.map((page) => pageOf(page, tune.staves)),
        ),
      ];
    } catch (error) {
      process.stderr.write(`${String(error)}\n`);
      return [];
    }
  });
}
