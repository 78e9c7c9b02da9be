/**
 * Makes src/core/find/engraved/shapes.json, the looks of the signs that bars are read by, from what engravers
 * have drawn in the tuning half of the corpus: LilyPond's glyphs by their names in the PDF, Verovio's by their SMuFL code points
 * in its SVG. `node --import tsx tests/corpus/shapes.ts [FOLDER]`
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { lookOf } from '../../src/core/find/engraved/look.ts';
import { smuflName } from '../../src/core/find/engraved/smufl.ts';
import { openInk } from '../../src/pdf/node.ts';
import { boxOf } from '../../src/core/find/rings.ts';
import { subPaths } from '../../src/pdf/ink/path.ts';

const root = process.argv[2] ?? '/tmp/holdfast-corpus';
const isTuning = (file: string) => Number(/-(\d+)\./.exec(file)![1]) % 2 === 0;

/** LilyPond's names for the same. */
const LILYPOND: Record<string, string> = {
  'scripts.segno': 'segno',
  'scripts.coda': 'coda',
  'clefs.G': 'gClef',
  'clefs.F': 'fClef',
  'clefs.C': 'cClef',
  'timesig.C44': 'timeSigCommon',
  'timesig.C22': 'timeSigCutCommon',
  'noteheads.s0': 'noteheadWhole',
  'noteheads.s1': 'noteheadHalf',
  'noteheads.s2': 'noteheadBlack',
  'flags.u3': 'flag8thUp',
  'flags.d3': 'flag8thDown',
  'flags.u4': 'flag16thUp',
  'flags.d4': 'flag16thDown',
  'accidentals.flat': 'accidentalFlat',
  'accidentals.natural': 'accidentalNatural',
  'accidentals.sharp': 'accidentalSharp',
  'rests.0': 'restWhole',
  'rests.1': 'restHalf',
  'rests.2': 'restQuarter',
  'rests.3': 'rest8th',
  'rests.4': 'rest16th',
  ...Object.fromEntries(
    ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'].map((word, i) => [
      word,
      `timeSig${i}`,
    ]),
  ),
};

const found = new Map<string, { name: string; width: number; height: number; look: string }>();

function add(name: string, rings: readonly (readonly number[])[], space: number): void {
  const [x0, y0, x1, y1] = boxOf(rings);
  const look = lookOf(rings)
    .map((share) => Math.round(Math.min(1, share) * 9))
    .join('');
  const round = (value: number) => Math.round((value / space) * 100) / 100;
  found.set(`${name} ${look}`, { name, width: round(x1 - x0), height: round(y1 - y0), look });
}

// Emmentaler's staff is one font size high: four spaces.
for (const file of readdirSync(join(root, 'lilypond')).filter(
  (name) => name.endsWith('.pdf') && isTuning(name),
)) {
  const pdf = await openInk(new Uint8Array(readFileSync(join(root, 'lilypond', file))));
  for (let i = 0; i < pdf.pages; i++)
    for (const ink of (await pdf.ink(i)).ink)
      if (ink.kind === 'glyph' && ink.name in LILYPOND && ink.rings.length > 0)
        add(LILYPOND[ink.name]!, ink.rings, ink.size / 4);
  await pdf.destroy();
}

const COMMANDS: Record<string, [code: number, count: number]> = {
  M: [0, 2],
  L: [1, 2],
  C: [2, 6],
  Q: [3, 4],
};

/** The data of an SVG path in the form of pdf.js; relative commands and smooth curves made plain. */
function dataOf(d: string): number[] {
  const data: number[] = [];
  let [x, y, cx, cy] = [0, 0, 0, 0];
  let last = '';
  for (const [, letter, rest] of d.matchAll(/([a-zA-Z])([^a-zA-Z]*)/g)) {
    const numbers = [...rest!.matchAll(/-?(?:\d+\.?\d*|\.\d+)/g)].map(Number);
    const upper = letter!.toUpperCase();
    const [dx, dy] = letter === upper ? [0, 0] : [1, 1];
    if (upper === 'Z') data.push(4);
    const step = { H: 1, V: 1, S: 4, T: 2, Z: 0 }[upper] ?? COMMANDS[upper]?.[1] ?? 0;
    for (let i = 0; step > 0 && i < numbers.length; i += step) {
      const part = numbers.slice(i, i + step);
      let points: number[];
      if (upper === 'H') points = [part[0]! + dx * x, y];
      else if (upper === 'V') points = [x, part[0]! + dy * y];
      else points = part.map((value, k) => value + (k % 2 === 0 ? dx * x : dy * y));
      let command = upper === 'H' || upper === 'V' ? 'L' : upper;
      if (upper === 'S') {
        points = [...(/[CS]/.test(last) ? [2 * x - cx, 2 * y - cy] : [x, y]), ...points];
        command = 'C';
      }
      if (command === 'M' && i > 0) command = 'L';
      data.push(COMMANDS[command]![0], ...points);
      [cx, cy] = points.slice(-4, -2) as [number, number];
      [x, y] = points.slice(-2) as [number, number];
      last = upper;
    }
  }
  return data;
}

const nameOf = (code: string) => smuflName(String.fromCodePoint(Number.parseInt(code, 16)));

// SMuFL: an em is the height of a staff, four spaces; Verovio's outlines have 1,000 units to the em.
for (const file of readdirSync(join(root, 'verovio')).filter(
  (name) => name.endsWith('.svg') && isTuning(name),
)) {
  const svg = readFileSync(join(root, 'verovio', file), 'utf8');
  for (const [, code, d] of svg.matchAll(/<g id="([0-9A-F]{4})-[^"]*">\s*<path [^>]*d="([^"]*)"/g))
    if (nameOf(code!) !== '')
      add(
        nameOf(code!),
        subPaths(dataOf(d!), [1, 0, 0, -1, 0, 0]).map(({ points }) => points),
        250,
      );
}

const target = resolve(import.meta.dirname, '../../src/core/find/engraved/shapes.json');
const list = [...found.values()].sort((a, b) => a.name.localeCompare(b.name) || a.look.localeCompare(b.look));
writeFileSync(target, `${JSON.stringify(list, null, 0).replace(/},/g, '},\n')}\n`);
process.stdout.write(`${list.length} signs\n`);
