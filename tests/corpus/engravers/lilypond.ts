/**
 * LilyPond: writes a tune in its language, engraves it as PDF, and takes the truth from the links that LilyPond lays
 * over its bar lines and staves in the same file.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { lengthOf } from '../tunes/music.ts';
import { lookOf, PLAIN, type Look } from '../tunes/look.ts';
import type { Note, Tune, TuneBar } from '../tunes/types.ts';
import { truthOf, type Truth } from '../truth.ts';
import { LINKED, linkedPages, LINKS } from './lilypond-links.ts';

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
const KINDS: Record<string, string> = {
  '': '',
  m: ':m',
  7: ':7',
  6: ':6',
  m7: ':m7',
  maj7: ':maj7',
  dim: ':dim',
};
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

/** Overrides for a look; LilyPond's own values of thickness and distance are in its manual of internals. */
function overridesOf(look: Look): string {
  if (look === PLAIN) return '';
  const { staffLine, barLine, thickLine, stem, gap, lowered } = look;
  const values: Record<string, number> = {
    'StaffSymbol.thickness': staffLine,
    // These count in thicknesses of a staff line.
    'BarLine.hair-thickness': (1.9 * barLine) / staffLine,
    'BarLine.thick-thickness': (6 * thickLine) / staffLine,
    'BarLine.kern': (3 * gap) / staffLine,
    'Stem.thickness': (1.3 * stem) / staffLine,
  };
  const over =
    lowered !== null
      ? `\\override SectionLabel.self-alignment-X = #CENTER
       \\override SectionLabel.break-align-symbols = #'(staff-bar)
       \\override SectionLabel.outside-staff-priority = ##f
       \\override SectionLabel.extra-offset = #'(0 . ${-lowered})`
      : '';
  return Object.entries(values)
    .map(([name, value]) => `\\override ${name} = #${value.toFixed(2)}`)
    .concat(over)
    .join('\n');
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
${LINKS}
\\header { title = "Tune ${tune.seed}" tagline = ##f }
\\paper { #(set-paper-size "${PAPER[tune.paper]}") ${tune.seed % 3 === 0 ? 'indent = 0 ragged-last = ##t' : ''} ${tune.seed % 4 === 1 ? 'ragged-right = ##t' : ''} }
\\layout { \\context { \\Score skipBars = ##t
  ${LINKED}
  ${overridesOf(lookOf(tune.seed))}
  ${tune.seed % 2 === 0 ? '\\omit BarNumber' : ''} } }
\\score { << \\new ChordNames \\chordmode { ${chords.join(' ')} } ${staves} >> }
`;
}

/** Engraves tunes into `folder` as NAME.pdf; gives LilyPond's own account of each. */
export async function engrave(tunes: readonly Tune[], folder: string): Promise<Truth[]> {
  mkdirSync(folder, { recursive: true });
  for (const tune of tunes) writeFileSync(join(folder, `${tune.name}.ly`), sourceOf(tune));
  const sources = tunes.map((tune) => `${tune.name}.ly`);
  execFileSync('lilypond', ['--silent', '-dno-point-and-click', ...sources], {
    cwd: folder,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  return Promise.all(
    tunes.map(async (tune) =>
      truthOf(tune, 'lilypond', await linkedPages(readFileSync(join(folder, `${tune.name}.pdf`)))),
    ),
  );
}
