/** A tune for PMW (Philip's Music Writer), which sets most notes as one letter of its font; engraved without its places. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { accidentalsOf, lengthOf } from '../tunes/music.ts';
import { classesOf } from '../tunes/index.ts';
import type { Chord, Meter, Note, Tune, TuneBar } from '../tunes/types.ts';

/** By lengths in sixteenths: capitals are half and whole notes. */
const LENGTHS: Readonly<Record<number, readonly [capital: boolean, sign: string]>> = {
  16: [true, '+'],
  12: [true, '.'],
  8: [true, ''],
  6: [false, '.'],
  4: [false, ''],
  3: [false, '-.'],
  2: [false, '-'],
  1: [false, '='],
};
const KEYS = ['C$', 'G$', 'D$', 'A$', 'E$', 'B$', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
const ENDINGS = ['1st', '2nd', '3rd'];

function noteText(
  { step, length, tie }: Note,
  accidental: number | null,
  bar: number,
  middle: number,
): string {
  const [capital, sign] = LENGTHS[length] ?? [true, '+'];
  const cased = (letter: string) => (capital ? letter.toUpperCase() : letter);
  if (step === null) return length === bar ? 'R!' : cased('r') + sign;
  const octave = Math.floor(step / 7) - middle;
  const marks = octave < 0 ? '`'.repeat(-octave) : "'".repeat(octave);
  const before = accidental === null ? '' : ['$', '%', '#'][accidental + 1]!;
  return `${before}${cased('cdefgab'[((step % 7) + 7) % 7]!)}${marks}${sign}${tie === true ? '_' : ''}`;
}

const chordText = ({ root, alter, kind }: Chord) =>
  `"\\rm\\${'CDEFGAB'[root]!}${alter === 0 ? '' : alter < 0 ? '\\*39\\' : '\\*37\\'}${kind}"/a `;

function notesText(
  notes: readonly Note[],
  tune: Tune,
  meter: Meter,
  chords: readonly Chord[],
  middle: number,
): string {
  const accidentals = accidentalsOf(notes, tune.key);
  const group = meter.value === 8 ? 6 : 4;
  let at = 0;
  return notes
    .map((note, i) => {
      const here = chords.filter((chord) => chord.at >= at && chord.at < at + note.length);
      at += note.length;
      const text = noteText(note, accidentals[i]!, lengthOf(meter), middle);
      return here.map(chordText).join('') + text + (at % group === 0 && note.length < 4 ? ';' : '');
    })
    .join(' ');
}

const jumpText = ({ from, al }: NonNullable<TuneBar['jump']>) =>
  (from === 'dc' ? 'D.C.' : 'D.S.') + (al === undefined ? '' : ` al ${al === 'fine' ? 'Fine' : 'Coda'}`);

/** Words over a bar's last note. */
function withWords(notes: string, bar: TuneBar): string {
  const words = [...(bar.fine === true ? ['Fine'] : []), ...(bar.jump ? [jumpText(bar.jump)] : [])].join(' ');
  const last = notes.lastIndexOf(' ') + 1;
  return words === '' ? notes : `${notes.slice(0, last)}"${words}"/a/e ${notes.slice(last)}`;
}

function lineText(bar: TuneBar, next: TuneBar | undefined): string {
  if (bar.repeatEnd === true) return ` :)${next ? ' |' : ''}`;
  return next === undefined ? '' : bar.double === true ? ' ||' : ' |';
}

/** A tune as PMW can set it; null with a segno or a coda, of which it has neither as a sign of its own. */
export function forPmw(tune: Tune): Tune | null {
  const isOfForm = ({ segno, coda, toCoda }: TuneBar) => segno === true || coda === true || toCoda === true;
  if (tune.bars.some(isOfForm)) return null;
  // Chord symbols would lie on a bracket's number or a letter that begins there: PMW moves neither out of the way.
  const bars = tune.bars.map((bar, i): TuneBar => {
    const begins = bar.ending !== undefined && bar.ending !== tune.bars[i - 1]?.ending;
    const isTaken = bar.section !== undefined || begins;
    return isTaken ? { ...bar, chords: bar.chords.filter(({ at }) => at > 0) } : bar;
  });
  return { ...tune, bars, classes: classesOf(bars) };
}

function sourceOf(tune: Tune): string {
  const staff = (isUpper: boolean) => {
    let meter = tune.meter;
    return tune.bars
      .map((bar, i) => {
        const before = tune.bars[i - 1];
        const next = tune.bars[i + 1];
        const changes = bar.meter !== undefined && i > 0;
        meter = bar.meter ?? meter;
        const parts = [
          changes ? `[time ${meter.beats}/${meter.value}]` : '',
          bar.pickup === true ? '[nocheck]' : '',
        ];
        if (isUpper && bar.ending !== before?.ending)
          parts.push(bar.ending === undefined ? '[all]' : `[${ENDINGS[bar.ending - 1]!}]`);
        if (bar.repeatStart === true) parts.push('(:');
        if (isUpper && bar.section !== undefined) parts.push(`["${bar.section}"]`);
        if (bar.rests !== undefined) parts.push(`[${bar.rests}] R!`);
        else if (isUpper) parts.push(withWords(notesText(bar.notes, tune, meter, bar.chords, 0), bar));
        else parts.push(notesText(bar.bass, tune, meter, [], -1));
        const newLine = isUpper && bar.break === true && next ? ' [newline]' : '';
        return parts.filter((part) => part !== '').join(' ') + lineText(bar, next) + newLine;
      })
      .join('\n');
  };
  const bass = tune.staves === 2 ? `\n[stave 2 bass 0]\n${staff(false)}\n[endstave]` : '';
  return `heading "Tune ${tune.seed}"
magnification ${tune.size}
key ${KEYS[tune.key + 7]!}
time ${tune.meter.beats}/${tune.meter.value}
bracket
brace 1-${tune.staves}
[stave 1 treble 1]
${staff(true)}
[endstave]${bass}
`;
}

/** Engraves a tune into `folder`: the path of its PDF. Needs pmw and gs; throws what they say. */
export function engrave(tune: Tune, folder: string): string {
  mkdirSync(folder, { recursive: true });
  const path = (kind: string) => join(folder, `${tune.name}.${kind}`);
  writeFileSync(path('pmw'), sourceOf(tune));
  execFileSync('pmw', ['-includefont', '-o', path('ps'), path('pmw')], { stdio: 'pipe' });
  execFileSync('ps2pdf', [path('ps'), path('pdf')], { stdio: 'pipe' });
  return path('pdf');
}
