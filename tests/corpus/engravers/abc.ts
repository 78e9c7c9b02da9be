/** A tune in ABC 2.1, for engravers that read it. Lengths in sixteenths. */
import { accidentalsOf, lengthOf } from '../tunes/music.ts';
import type { Chord, Note, Tune, TuneBar } from '../tunes/types.ts';

const KEYS = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
const BARS_A_LINE = 4;

/** A pitch as ABC writes it: C is middle C, c the octave over it. */
function pitch(step: number, accidental: number | null): string {
  const sign = accidental === null ? '' : accidental > 0 ? '^' : accidental < 0 ? '_' : '=';
  const letter = 'CDEFGAB'[((step % 7) + 7) % 7]!;
  const octave = Math.floor(step / 7);
  if (octave >= 1) return sign + letter.toLowerCase() + "'".repeat(octave - 1);
  return sign + letter + ','.repeat(-octave);
}

const chordName = ({ root, alter, kind }: Chord) =>
  `"${'CDEFGAB'[root]!}${alter < 0 ? 'b' : alter > 0 ? '#' : ''}${kind}"`;

/** Notes of a bar; short ones of a beat stand together, which makes them one beam. */
function notesOf(bar: TuneBar, notes: readonly Note[], tune: Tune, length: number, value: number): string {
  const isMelody = notes === bar.notes;
  if (isMelody && bar.rests !== undefined) return `Z${bar.rests}`;
  if (notes.length === 0) return `z${length}`;
  const group = value === 8 ? 6 : 4;
  const accidentals = accidentalsOf(notes, tune.key);
  let at = 0;
  let text = '';
  notes.forEach((note, i) => {
    const chord = isMelody ? bar.chords.find((one) => one.at === at) : undefined;
    const first = isMelody && i === 0;
    const last = isMelody && i === notes.length - 1;
    if (at % group === 0 || note.length >= 4 || chord) text += ' ';
    if (chord) text += chordName(chord);
    if (first && bar.segno === true) text += '!segno!';
    if (first && bar.coda === true) text += '!coda!';
    if (last && bar.toCoda === true) text += '"^To Coda"';
    if (last && bar.fine === true) text += '!fine!';
    if (last && bar.jump) {
      const { from, al } = bar.jump;
      text += `!${from === 'dc' ? 'D.C.' : 'D.S.'}${al === undefined ? '' : `al${al}`}!`;
    }
    const name = note.step === null ? 'z' : pitch(note.step, accidentals[i]!);
    const whole = note.step === null && notes.length === 1 && note.length === length && isMelody;
    text += whole ? 'Z' : name + String(note.length) + (note.tie === true ? '-' : '');
    at += note.length;
  });
  return text.trim();
}

/** A start repeat at a line's end stands at the next line's start. */
function lineAfter(bar: TuneBar, next: TuneBar | undefined, isLast: boolean): string {
  const starts = next?.repeatStart === true;
  const after = isLast && starts ? '\n|:' : isLast ? '\n' : '';
  if (bar.repeatEnd === true) return (starts && !isLast ? '::' : ':|') + after;
  if (next === undefined) return '|]';
  if (starts && !isLast) return '|:';
  return (bar.double === true ? '||' : '|') + after;
}

/** @param directives lines of the engraver's own, such as %%staffwidth */
export function abcOf(tune: Tune, directives: readonly string[] = []): string {
  const voices: string[] = [];
  for (const voice of tune.staves === 2 ? ([1, 2] as const) : ([1] as const)) {
    let { meter } = tune;
    let text = tune.staves === 2 ? `V:${voice}\n` : '';
    let inLine = 0;
    tune.bars.forEach((bar, i) => {
      const before = tune.bars[i - 1];
      if (i === 0 && bar.repeatStart === true) text += '|: ';
      // A part's name may stand before the bar line only at the start of a line of its own.
      if (bar.section !== undefined && voice === 1) text += `[P:${bar.section}]`;
      if (bar.meter) text += `[M:${bar.meter.beats}/${bar.meter.value}]`;
      meter = bar.meter ?? meter;
      if (bar.ending !== undefined && before?.ending !== bar.ending && voice === 1) text += `[${bar.ending} `;
      text += notesOf(bar, voice === 1 ? bar.notes : bar.bass, tune, lengthOf(meter), meter.value);
      inLine += bar.pickup === true ? 0 : 1;
      text += ` ${lineAfter(bar, tune.bars[i + 1], inLine === BARS_A_LINE)} `;
      inLine %= BARS_A_LINE;
    });
    voices.push(text.trimEnd());
  }
  return [
    'X:1',
    ...directives,
    `T:Tune ${tune.seed}`,
    `M:${tune.meter.beats}/${tune.meter.value}`,
    'L:1/16',
    ...(tune.staves === 2 ? ['%%staves {1 2}', 'V:1 clef=treble', 'V:2 clef=bass'] : []),
    `K:${KEYS[tune.key + 7]!}`,
    ...voices,
    '',
  ].join('\n');
}
