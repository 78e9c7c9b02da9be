/**
 * LilyPond: writes a tune in its language, engraves it as PDF, and takes the truth from its own SVG, where
 * `output-attributes` names bar lines and staves as LilyPond itself knows them.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BarLineKind } from '../../../src/core/find/types.ts';
import { lengthOf } from '../tunes/music.ts';
import type { Note, Tune, TuneBar } from '../tunes/types.ts';
import { truthOf, type DrawnPage, type Truth } from '../truth.ts';

const LETTERS = 'cdefgab';
const DURATIONS: Record<number, string> = {
  16: '1',
  12: '2.',
  8: '2',
  6: '4.',
  4: '4',
  3: '8.',
  2: '8',
  1: '16',
};
const KINDS: Record<string, string> = { '': '', m: ':m', 7: ':7', m7: ':m7', maj7: ':maj7', dim: ':dim' };
const PAPER = { a4: 'a4', letter: 'letter', a4landscape: 'a4landscape' };

const accidental = (alter: number) => (alter > 0 ? 'is' : alter < 0 ? 'es' : '');

function pitch(step: number, alter: number): string {
  const octave = Math.floor(step / 7) + 1;
  const mark = octave >= 0 ? "'".repeat(octave) : ','.repeat(-octave);
  return LETTERS[((step % 7) + 7) % 7]! + accidental(alter) + mark;
}

function notesOf(notes: readonly Note[], barLength: number): string {
  if (notes.length === 1 && notes[0]!.step === null && notes[0]!.length === barLength)
    return `R1*${barLength}/16`;
  return notes
    .map(
      ({ step, alter, length, tie }) =>
        (step === null ? 'r' : pitch(step, alter)) + DURATIONS[length]! + (tie === true ? '~' : ''),
    )
    .join(' ');
}

const JUMPS = { dc: 'D.C.', ds: 'D.S.' };

/** What stands between two bars: the bar line and brackets that end or begin. */
function between(before: TuneBar | undefined, after: TuneBar | undefined): string {
  const words: string[] = [];
  if (before !== undefined) {
    if (before.toCoda === true) words.push('\\textEndMark "To Coda"');
    if (before.fine === true) words.push('\\textEndMark "Fine"');
    if (before.jump !== undefined)
      words.push(
        `\\textEndMark "${JUMPS[before.jump.from]}${before.jump.al === undefined ? '' : ` al ${before.jump.al === 'fine' ? 'Fine' : 'Coda'}`}"`,
      );
    if (after === undefined) words.push(`\\bar "${before.repeatEnd === true ? ':|.' : '|.'}"`);
    else if (before.repeatEnd === true && after.repeatStart === true) words.push('\\bar ":|.|:"');
    else if (before.repeatEnd === true) words.push('\\bar ":|."');
    else if (after.repeatStart === true) words.push('\\bar ".|:"');
    else if (before.double === true) words.push('\\bar "||"');
  } else if (after?.repeatStart === true) words.push('\\bar ".|:"');
  const ends = before?.ending !== undefined && before.ending !== after?.ending;
  const starts = after?.ending !== undefined && before?.ending !== after.ending;
  if (ends || starts)
    words.push(
      `\\set Score.repeatCommands = #'(${ends ? '(volta #f)' : ''} ${starts ? `(volta "${after.ending}.")` : ''})`,
    );
  if (before?.break === true) words.push('\\break');
  return words.join(' ');
}

function signsBefore(bar: TuneBar): string {
  const words: string[] = [];
  if (bar.meter) words.push(`\\time ${bar.meter.beats}/${bar.meter.value}`);
  if (bar.section !== undefined) words.push(`\\sectionLabel \\markup \\box \\bold "${bar.section}"`);
  if (bar.segno === true) words.push('\\mark \\markup { \\musicglyph "scripts.segno" }');
  if (bar.coda === true) words.push('\\codaMark 1');
  return words.join(' ');
}

function sourceOf(tune: Tune): string {
  let meter = tune.meter;
  const upper: string[] = [];
  const lower: string[] = [];
  const chords: string[] = [];
  tune.bars.forEach((bar, i) => {
    meter = bar.meter ?? meter;
    const length = lengthOf(meter);
    const partial = bar.pickup === true ? `\\partial ${meter.value} ` : '';
    const line = between(tune.bars[i - 1], bar);
    if (bar.rests !== undefined) {
      upper.push(line, signsBefore(bar), `R1*${length * bar.rests}/16 |`);
      chords.push(`s1*${length * bar.rests}/16`);
      return;
    }
    upper.push(line, signsBefore(bar), partial, notesOf(bar.notes, length), '|\n');
    lower.push(
      bar.meter ? `\\time ${bar.meter.beats}/${bar.meter.value}` : '',
      partial,
      notesOf(bar.bass, length),
      '|\n',
    );
    if (bar.pickup === true) chords.push(`\\partial ${meter.value} s${meter.value}`);
    else if (bar.chords.length === 0) chords.push(`s1*${length}/16`);
    else
      bar.chords.forEach((chord, k) => {
        const until = bar.chords[k + 1]?.at ?? length;
        chords.push(
          `${LETTERS[chord.root]}${accidental(chord.alter)}1*${until - chord.at}/16${KINDS[chord.kind]}`,
        );
      });
  });
  upper.push(between(tune.bars.at(-1), undefined));
  const keys = ['ces', 'ges', 'des', 'aes', 'ees', 'bes', 'f', 'c', 'g', 'd', 'a', 'e', 'b', 'fis', 'cis'];
  const start = `\\key ${keys[tune.key + 7]} \\major \\time ${tune.meter.beats}/${tune.meter.value}`;
  const staff = (music: string, clef: string) => `\\new Staff { \\clef ${clef} ${start} ${music} }`;
  const staves =
    tune.staves === 2
      ? `\\new PianoStaff << ${staff(upper.join(' '), 'treble')} ${staff(lower.join(' '), 'bass')} >>`
      : staff(upper.join(' '), 'treble');
  return `\\version "2.24.1"
#(set-global-staff-size ${20 * tune.size})
#(define (name-it what) (lambda (grob) (list (cons 'class what)
  (cons 'data-kind (let ((g (ly:grob-property grob 'glyph-name #f))) (if (string? g) g ""))))))
\\header { title = "Tune ${tune.seed}" tagline = ##f }
\\paper { #(set-paper-size "${PAPER[tune.paper]}") ${tune.seed % 3 === 0 ? 'indent = 0 ragged-last = ##t' : ''} ${tune.seed % 4 === 1 ? 'ragged-right = ##t' : ''} }
\\layout { \\context { \\Score skipBars = ##t
  \\override BarLine.output-attributes = #(name-it "bar-line")
  \\override VoltaBracket.output-attributes = #(lambda (g) (list (cons 'class "ending") (cons 'data-text (let ((t (ly:grob-property g 'text))) (if (string? t) t "")))))
  \\override StaffSymbol.output-attributes = #(name-it "staff")
  ${tune.seed % 2 === 0 ? '\\omit BarNumber' : ''} } }
\\score { << \\new ChordNames \\chordmode { ${chords.join(' ')} } ${staves} >> }
`;
}

const LINES: Record<string, BarLineKind> = {
  '|': 'single',
  '||': 'double',
  '|.': 'final',
  ':|.': 'repeat-end',
  '.|:': 'repeat-start',
  ':|.|:': 'repeat-both',
};

/** Groups of an SVG that carry a class, with the strokes inside, in the SVG's own units. */
function* groups(svg: string) {
  for (const [, name, kind, body] of svg.matchAll(
    /<g class="(bar-line|staff)" data-kind="([^"]*)">\n([\s\S]*?)\n<\/g>\n<\/g>/g,
  )) {
    const strokes = [...body!.matchAll(/translate\((\S+), (\S+)\)">\s*<(rect|line) ([^>]*)>/g)].map(
      ([, x, y, shape, rest]) => {
        const number = (key: string) => Number(RegExp(`(?:^| )${key}="([^"]*)"`).exec(rest!)?.[1]);
        return shape === 'rect'
          ? {
              x0: +x! + number('x'),
              x1: +x! + number('x') + number('width'),
              y0: +y! + number('y'),
              y1: +y! + number('y') + number('height'),
            }
          : {
              x0: +x! + number('x1'),
              x1: +x! + number('x2'),
              y0: +y! + number('y1'),
              y1: +y! + number('y2'),
            };
      },
    );
    if (strokes.length > 0) yield { name: name!, kind: kind!, strokes };
  }
}

const least = (list: number[]) => Math.min(...list);
const most = (list: number[]) => Math.max(...list);

/** One page as LilyPond's SVG describes it. */
function pageOf(svg: string, staves: number): DrawnPage {
  const [, w, h, wide, high] = /width="(\S+)mm" height="(\S+)mm" viewBox="\S+ \S+ (\S+) (\S+)"/
    .exec(svg)!
    .map(Number) as [number, number, number, number, number];
  const [width, height] = [(w / 25.4) * 72, (h / 25.4) * 72];
  const [sx, sy] = [width / wide, height / high];
  const found = [...groups(svg)];
  const staffs = found
    .filter((group) => group.name === 'staff')
    .map(({ strokes }) => ({
      x0: least(strokes.map((s) => s.x0)),
      x1: most(strokes.map((s) => s.x1)),
      top: least(strokes.map((s) => s.y0)),
      bottom: most(strokes.map((s) => s.y0)),
    }))
    .sort((a, b) => a.top - b.top);
  const systems: DrawnPage['systems'] = [];
  for (let i = 0; i < staffs.length; i += staves) {
    const [top, bottom] = [staffs[i]!, staffs[i + staves - 1]!];
    const lines = found
      .filter(
        ({ name, kind, strokes }) =>
          name === 'bar-line' && kind in LINES && Math.abs(strokes[0]!.y0 - top.top) < 1,
      )
      .map(({ kind, strokes }) => ({
        kind: LINES[kind]!,
        x0: sx * least(strokes.map((s) => s.x0)),
        x1: sx * most(strokes.map((s) => s.x1)),
      }));
    systems.push({
      top: sy * top.top,
      bottom: sy * bottom.bottom,
      x0: sx * top.x0,
      x1: sx * top.x1,
      staves,
      lines,
    });
  }
  return { width, height, systems };
}

/** Engraves tunes into `folder` as NAME.pdf; gives LilyPond's own account of each. */
export function engrave(tunes: readonly Tune[], folder: string): Truth[] {
  mkdirSync(folder, { recursive: true });
  for (const tune of tunes) writeFileSync(join(folder, `${tune.name}.ly`), sourceOf(tune));
  const sources = tunes.map((tune) => `${tune.name}.ly`);
  for (const backend of [['-dbackend=svg'], []])
    execFileSync('lilypond', ['--silent', '-dno-point-and-click', ...backend, ...sources], {
      cwd: folder,
      stdio: ['ignore', 'ignore', 'pipe'],
    });
  return tunes.flatMap((tune) => {
    try {
      return [account(tune, folder)];
    } catch (error) {
      process.stderr.write(`${String(error)}\n`);
      return [];
    }
  });
}

/** LilyPond's own account of a tune that it has engraved into `folder`. Throws when SVG and PDF differ. */
export function account(tune: Tune, folder: string): Truth {
  const numbered = RegExp(`^${tune.name}(?:-(\\d+))?\\.svg$`);
  const svgs = readdirSync(folder)
    .filter((file) => numbered.test(file))
    .sort((a, b) => Number(numbered.exec(a)![1] ?? 0) - Number(numbered.exec(b)![1] ?? 0));
  const pages = svgs.map((file) => pageOf(readFileSync(join(folder, file), 'utf8'), tune.staves));
  pages.forEach((page, i) => {
    const pdf = join(folder, `${tune.name}.pdf`);
    if (!isDrawnSo(page, pdf, i + 1))
      throw new Error(`LilyPond laid ${tune.name} out otherwise in SVG than in PDF`);
  });
  return truthOf(tune, 'lilypond', pages);
}

const DPI = 144;

/**
 * Whether the PDF, as poppler draws it, is dark where the SVG says that the outer staff lines and the
 * thin bar lines are:
 * with words at the end of bars LilyPond's two outputs may be spaced a little apart.
 */
function isDrawnSo(page: DrawnPage, pdf: string, number: number): boolean {
  const only = ['-f', String(number), '-l', String(number)];
  const pgm = execFileSync('pdftoppm', ['-gray', '-r', String(DPI), ...only, pdf], { maxBuffer: 1e9 });
  const [head, width] = /^P5\s+(\d+)\s+\d+\s+\d+\s/.exec(pgm.subarray(0, 64).toString('latin1'))!;
  const scale = DPI / 72;
  const isDark = (x: number, y: number) => pgm[head.length + y * Number(width) + x]! < 225;
  // A point and a half: the two outputs round words differently, and boxes are compared at IoU 0.75.
  const near = [-3, -2, -1, 0, 1, 2, 3];
  const along = (from: number, to: number, isInk: (at: number) => boolean) => {
    const places = Array.from({ length: 60 }, (_, i) =>
      Math.round((from + ((to - from) * (i + 0.5)) / 60) * scale),
    );
    return places.filter(isInk).length > 50;
  };
  return page.systems.every(
    ({ top, bottom, x0, x1, lines, staves }) =>
      [top, bottom].every((y) =>
        near.some((off) => along(x0, x1, (x) => isDark(x, Math.round(y * scale) + off))),
      ) &&
      (staves > 1 ||
        lines.every(
          (line) =>
            near.some((off) =>
              along(top, bottom, (y) => isDark(Math.round(((line.x0 + line.x1) / 2) * scale) + off, y)),
            ) || line.x1 - line.x0 > 1.5,
        )),
  );
}
