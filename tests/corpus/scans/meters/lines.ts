/**
 * Lines of music that begin with a clef, a key and a meter, or with no meter:
 * `npx tsx tests/corpus/scans/meters/lines.ts FOLDER FROM TO` engraves a page for every seed, with LilyPond and
 * with abcm2ps, and writes down beside it which meter each line says.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { METERS, type Said } from '../../../../src/core/find/pixels/meter-shapes.ts';
import { Random } from '../../tunes/random.ts';

/** Lines to a page. */
const LINES = 9;
const CLEFS = ['treble', 'treble', 'bass', 'bass', 'alto', 'tenor', 'treble_8'];
/** Major keys by their sharps, flats below zero. */
const KEYS = 'ces ges des as es bes f c g d a e b fis cis'.split(' ');
const ABC_KEYS = 'Cb Gb Db Ab Eb Bb F C G D A E B F# C#'.split(' ');

interface Line {
  readonly clef: string;
  readonly key: number;
  readonly meter: Said;
  /** Lengths in eighths with steps above middle C. */
  readonly notes: readonly (readonly [eighths: number, step: number])[];
}

function lineOf(random: Random): Line {
  const meter = random.chance(0.25) ? 'none' : random.pick(METERS.slice(1));
  const notes: [number, number][] = [];
  for (let left = 40; left > 0;) {
    const length = Math.min(left, random.pick([1, 1, 2, 2, 2, 4]));
    const fits = [1, 2, 4].includes(length) ? length : 1;
    notes.push([fits, random.below(12) - 1]);
    left -= fits;
  }
  return { clef: random.pick(CLEFS), key: random.below(15) - 7, meter, notes };
}

const beatsOf = (meter: Said) => (meter === 'C' ? '4/4' : meter === 'cut' ? '2/2' : meter);

function inLilyPond(lines: readonly Line[], size: number): string {
  const scores = lines.map(({ clef, key, meter, notes }) => {
    const music = notes
      .map(
        ([eighths, step]) =>
          'cdefgab'[((step % 7) + 7) % 7]! + (step >= 7 ? "''" : "'") + { 1: '8', 2: '4', 4: '2' }[eighths]!,
      )
      .join(' ');
    const time =
      meter === 'none'
        ? '\\omit Staff.TimeSignature \\time 4/4'
        : `${meter === 'C' || meter === 'cut' ? '' : '\\numericTimeSignature '}\\time ${beatsOf(meter)}`;
    return `\\score { \\new Staff { \\clef "${clef}" \\key ${KEYS[key + 7]!} \\major ${time} ${music} \\bar "|." } \\layout { } }`;
  });
  return `\\version "2.24.0"\n#(set-global-staff-size ${size})\n\\paper { indent = 0 tagline = ##f }\n${scores.join('\n')}\n`;
}

function inAbc(lines: readonly Line[], size: number): string {
  const tunes = lines.map(({ clef, key, meter, notes }, i) => {
    const music = notes.map(
      ([eighths, step]) =>
        (step >= 7 ? 'cdefgab'[step - 7]! : 'CDEFGAB'[((step % 7) + 7) % 7]!) +
        { 1: '', 2: '2', 4: '4' }[eighths]!,
    );
    const time = { none: 'none', C: 'C', cut: 'C|' }[meter as string] ?? meter;
    return `X:${i + 1}\nM:${time}\nL:1/8\nK:${ABC_KEYS[key + 7]!} clef=${clef.replace('_8', '-8')}\n${music.slice(0, 20).join(' ')} |]\n`;
  });
  return `%abc-2.1\n%%scale ${(0.75 * size) / 20}\n%%musicspace 0\n%%topspace 0.5cm\n${tunes.join('\n')}`;
}

const [folder = '', from = '0', to = '20'] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });
for (let seed = Number(from); seed < Number(to); seed++) {
  const random = new Random(seed * 613 + 5);
  const lines = Array.from({ length: LINES }, () => lineOf(random));
  const size = random.pick([16, 18, 20, 22]);
  const said = JSON.stringify(lines.map(({ meter }) => meter));
  const at = (engraver: string) => join(folder, `${engraver}-${seed}`);
  writeFileSync(`${at('lilypond')}.ly`, inLilyPond(lines, size));
  execFileSync('lilypond', ['-s', '-o', at('lilypond'), `${at('lilypond')}.ly`], { stdio: 'ignore' });
  writeFileSync(`${at('lilypond')}.json`, said);
  writeFileSync(`${at('abcm2ps')}.abc`, inAbc(lines, size));
  execFileSync('abcm2ps', ['-q', '-O', `${at('abcm2ps')}.ps`, `${at('abcm2ps')}.abc`], { stdio: 'ignore' });
  execFileSync('ps2pdf', [`${at('abcm2ps')}.ps`, `${at('abcm2ps')}.pdf`]);
  writeFileSync(`${at('abcm2ps')}.json`, said);
}
