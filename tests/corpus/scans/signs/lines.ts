/**
 * Lines of music with signs of the form over them, in many words, fonts and sizes:
 * `npx tsx tests/corpus/scans/signs/lines.ts FOLDER FROM TO` has LilyPond engrave a page for every even seed. Over every
 * sign lies a link whose address says what it is, so that what stands where is LilyPond's own account.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Written } from '../../../../src/core/find/pixels/sign-shapes.ts';
import { LINKED, LINKS } from '../../engravers/lilypond-links.ts';
import { Random } from '../../tunes/random.ts';
import { addressOf } from './boxes.ts';

/** Lines to a page, bars to a line. */
const LINES = 8;
const BARS = 8;
const FONTS = [
  'C059',
  'P052',
  'Nimbus Roman',
  'Nimbus Roman',
  'Nimbus Sans',
  'Nimbus Sans',
  'Nimbus Sans Narrow',
  'URW Bookman',
  'URW Gothic',
  'DejaVu Serif',
  'DejaVu Sans',
];
const STYLES = ['', '', ' Bold', ' Italic', ' Italic', ' Bold Italic'];

/** What a sign may look like: words, or words with a sign of LilyPond's own font behind them. */
const ENDS: readonly (readonly [Written, readonly string[]])[] = [
  ['dc', ['D.C.', 'D. C.', 'Da Capo', 'D.C']],
  ['dc al fine', ['D.C. al Fine', 'D.C. al fine', 'Da Capo al Fine', 'D.C. AL FINE']],
  ['dc al coda', ['D.C. al Coda', 'D.C. al coda', 'D.C. al ⊕', 'D.C. AL CODA']],
  ['ds', ['D.S.', 'D. S.', 'Dal Segno', 'D.S']],
  ['ds al fine', ['D.S. al Fine', 'D.S. al fine', 'Dal Segno al Fine', 'D.S. AL FINE']],
  ['ds al coda', ['D.S. al Coda', 'D.S. al coda', 'D.S. al ⊕', 'D.S. AL CODA', 'D. S. al Coda']],
  ['fine', ['Fine', 'Fine', 'FINE', 'fine', 'Fine.']],
  ['to-coda', ['To Coda', 'to Coda', 'To Coda ⊕', 'TO CODA', 'To ⊕']],
];
const STARTS: readonly (readonly [Written, readonly string[]])[] = [
  ['segno', ['§']],
  ['coda', ['⊕', '⊕', 'Coda', 'CODA']],
  ...['A', 'B', 'C', 'D'].map((letter) => [`section ${letter}` as Written, [letter]] as const),
];
const NUMBERS: readonly (readonly [Written, readonly string[]])[] = [
  ['ending 1', ['1.', '1.', '1']],
  ['ending 2', ['2.', '2.', '2']],
  ['ending 3', ['3.', '3.', '3']],
  ['ending 1,2', ['1.2.', '1., 2.', '1, 2', '1.-2.']],
  ['none', ['4.', '2.3.', '3.4.']],
];
/** Words that say nothing of the form. */
const OTHERS =
  'Swing|rit.|Solo|Bass|N.C.|mf|cresc.|Moderato|2nd time only|1st x tacet|Verse|Intro|Latin|Ballad|Drums|Fill|Am7|Dm7|F7|D7|C6|G|D|C|A|B|Dsus4|Csus4|B♭|F♯m7|E♭maj7|A7alt|Cm7(♭5)|12|5|9|17|24|1|2|3'.split(
    '|',
  );
/** Words in a box that are no letter known. */
const BOXED = ['E', 'F', 'G', 'H', 'Intro', '1', '2', '5', '9', '13', 'A1', 'B2', 'Solo', 'Head', 'Out'];

interface Look {
  readonly font: string;
  readonly size: number;
}

const glyphs: Record<string, string> = { '⊕': 'scripts.coda', '§': 'scripts.segno' };

/** A markup of words and signs. */
function markupOf(text: string, { font, size }: Look): string {
  const words = text
    .split(/(?<=[⊕§])|(?=[⊕§])/)
    .filter((part) => part.trim() !== '')
    .map((part) =>
      glyphs[part] === undefined
        ? `\\override #'(font-name . "${font}") "${part.trim()}"`
        : `\\musicglyph "${glyphs[part]}"`,
    );
  return `\\fontsize #${size} \\line { ${words.join(' ')} }`;
}

const linkedTo = (written: Written, markup: string) =>
  written === 'none' ? markup : `\\with-url "${addressOf(written)}" ${markup}`;

const OCTAVES: Record<string, readonly [string, string]> = { treble: ["'", "''"], bass: [',', ''] };

function notesOf(random: Random, clef: string): string {
  const low = random.below(6);
  const note = (length: string) => {
    const step = low + random.below(8);
    return 'cdefgab'[step % 7]! + OCTAVES[clef]![step >= 7 ? 1 : 0] + length;
  };
  const rhythm = random.pick([
    ['4', '4', '4', '4'],
    ['2', '2'],
    ['8', '8', '8', '8', '2'],
    ['1'],
    ['4.', '8', '2'],
  ]);
  return rhythm.map(note).join(' ');
}

const chordOf = (random: Random) =>
  'cdefgab'[random.below(7)]! +
  random.pick(['', '', 'es', 'is']) +
  '1' +
  random.pick(['', ':m', ':7', ':m7', ':maj7', ':dim', ':sus4', ':m7.5-', ':6']);

/** A line: its notes and chords. */
function lineOf(random: Random, clef: string): { music: string; chords: string } {
  const music: string[] = [];
  const look = (): Look => ({
    font: random.pick(FONTS) + random.pick(STYLES),
    size: random.pick([-1, 0, 0, 0, 1, 1, 2, 3]),
  });
  const boxed = (text: string) => `\\box \\pad-markup #${random.pick([0, 0.2, 0.4])} ${text}`;
  let open = 0;
  for (let bar = 0; bar < BARS; bar++) {
    if (open === 0 && random.chance(0.3)) {
      const [written, texts] = random.pick(NUMBERS);
      const { font, size } = look();
      const text = `(markup #:override '(font-encoding . latin1) #:override '(font-name . "${font}") #:fontsize ${size - 2} "${random.pick(texts)}")`;
      const high = random.pick([1.2, 1.6, 2, 2, 2.5]);
      music.push(
        `\\once \\override Score.VoltaBracket.stencil = #(linked-volta "${addressOf(written)}")`,
        `\\once \\override Score.VoltaBracket.thickness = #${random.pick([0.7, 1, 1.6, 2.2])}`,
        `\\once \\override Score.VoltaBracket.edge-height = #'(${high} . ${high})`,
        `\\set Score.repeatCommands = #(list (list 'volta ${text}))`,
      );
      open = 1 + random.below(2);
    }
    if (random.chance(0.28)) {
      const [written, texts] = random.pick(STARTS);
      const markup = markupOf(random.pick(texts), look());
      const framed = written.startsWith('section')
        ? random.pick([boxed, boxed, boxed, (t: string) => `\\circle ${t}`])(markup)
        : markup;
      music.push(`\\textMark \\markup ${linkedTo(written, framed)}`);
    } else if (random.chance(0.12))
      music.push(`\\textMark \\markup ${boxed(markupOf(random.pick(BOXED), look()))}`);
    music.push(notesOf(random, clef));
    if (random.chance(0.25)) music.push(`^\\markup ${markupOf(random.pick(OTHERS), look())}`);
    if (random.chance(0.25)) {
      const [written, texts] = random.pick(ENDS);
      music.push(`\\textEndMark \\markup ${linkedTo(written, markupOf(random.pick(texts), look()))}`);
    }
    if (open > 0 && --open === 0) music.push("\\set Score.repeatCommands = #'((volta #f))");
    music.push('|');
  }
  if (open > 0) music.push("\\set Score.repeatCommands = #'((volta #f))");
  const chords = random.chance(0.6) ? Array.from({ length: BARS }, () => chordOf(random)).join(' ') : '';
  return { music: music.join('\n'), chords };
}

function pageOf(random: Random): string {
  const scores = Array.from({ length: LINES }, () => {
    const clef = random.pick(['treble', 'treble', 'bass']);
    const { music, chords } = lineOf(random, clef);
    const number = `\\set Score.currentBarNumber = #${1 + random.below(60)}`;
    return `\\score { << \\new ChordNames \\chordmode { ${chords} } \\new Staff { ${number} \\bar "" \\clef ${clef} ${music} \\bar "|." } >> }`;
  });
  const size = random.pick([16, 18, 20, 20, 23]);
  return `\\version "2.24.0"
#(set-global-staff-size ${size})
${LINKS}
#(define ((linked-volta address) grob)
  (let ((s (ly:volta-bracket-interface::print grob)))
    (if (ly:stencil? s) (linked s address (ly:stencil-extent s Y)) s)))
\\paper { indent = 0 tagline = ##f system-system-spacing.padding = #1 }
\\layout { \\context { \\Score \\override BarNumber.break-visibility = ${random.pick(['#end-of-line-invisible', '##(#f #f #t)'])} ${LINKED}
 \\override TextMark.outside-staff-padding = #${random.pick([0.4, 0.8])} } }
${scores.join('\n')}
`;
}

const [folder = '', from = '0', to = '20'] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });
const names: string[] = [];
for (let seed = Number(from); seed < Number(to); seed += 2) {
  writeFileSync(join(folder, `lines-${seed}.ly`), pageOf(new Random(seed * 811 + 3)));
  names.push(`lines-${seed}.ly`);
}
execFileSync('lilypond', ['-s', ...names], { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] });
