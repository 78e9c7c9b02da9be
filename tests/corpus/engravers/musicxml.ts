/** A tune as MusicXML 4.0, for engravers that read it. */
import { accidentalsOf, lengthOf } from '../tunes/music.ts';
import type { Chord, Meter, Note, Tune, TuneBar } from '../tunes/types.ts';

const LETTERS = 'CDEFGAB';
const TYPES: Record<number, [type: string, dots: number]> = {
  16: ['whole', 0],
  12: ['half', 1],
  8: ['half', 0],
  6: ['quarter', 1],
  4: ['quarter', 0],
  3: ['eighth', 1],
  2: ['eighth', 0],
  1: ['16th', 0],
};
const KINDS: Record<Chord['kind'], [kind: string, text: string]> = {
  '': ['major', ''],
  m: ['minor', 'm'],
  7: ['dominant', '7'],
  6: ['major-sixth', '6'],
  m7: ['minor-seventh', 'm7'],
  maj7: ['major-seventh', 'maj7'],
  dim: ['diminished', 'dim'],
};

const ACCIDENTALS = ['flat', 'natural', 'sharp'];

function noteXml(
  note: Note,
  staff: number,
  barLength: number,
  beams: string,
  before: Note | undefined,
  accidental: number | null,
): string {
  const { step, alter, length } = note;
  const isWhole = step === null && length === barLength;
  const [type, dots] = TYPES[length] ?? ['whole', 0];
  const pitch =
    step === null
      ? `<rest${isWhole ? ' measure="yes"' : ''}/>`
      : `<pitch><step>${LETTERS[((step % 7) + 7) % 7]}</step>${alter === 0 ? '' : `<alter>${alter}</alter>`}<octave>${Math.floor(step / 7) + 4}</octave></pitch>`;
  const sign = accidental === null ? '' : `<accidental>${ACCIDENTALS[accidental + 1]}</accidental>`;
  const look = isWhole ? '' : `<type>${type}</type>${'<dot/>'.repeat(dots)}${sign}`;
  const ties = [before?.tie === true ? 'stop' : '', note.tie === true ? 'start' : ''].filter(
    (type) => type !== '',
  );
  const each = (name: string) => ties.map((type) => `<${name} type="${type}"/>`).join('');
  const tied = ties.length === 0 ? '' : `<notations>${each('tied')}</notations>`;
  return `<note>${pitch}<duration>${length}</duration>${each('tie')}<voice>${staff}</voice>${look}<staff>${staff}</staff>${beams}${tied}</note>`;
}

/** Beams inside each beat group, as engravers set them when asked nothing else. */
function beamsOf(notes: readonly Note[], group: number): string[] {
  const beams = notes.map(() => '');
  let at = 0;
  let run: number[] = [];
  const close = () => {
    run.forEach((i, k) => {
      const state = k === 0 ? 'begin' : k === run.length - 1 ? 'end' : 'continue';
      if (run.length > 1) beams[i] = `<beam number="1">${state}</beam>`;
    });
    run = [];
  };
  notes.forEach((note, i) => {
    if (at % group === 0) close();
    if (note.step !== null && note.length < 4) run.push(i);
    else close();
    at += note.length;
  });
  close();
  return beams;
}

function staffXml(notes: readonly Note[], staff: number, { key }: Tune, { beats, value }: Meter): string {
  const beams = beamsOf(notes, value === 8 ? 6 : 4);
  const accidentals = accidentalsOf(notes, key);
  const length = lengthOf({ beats, value });
  return notes
    .map((note, i) => noteXml(note, staff, length, beams[i]!, notes[i - 1], accidentals[i]!))
    .join('');
}

const words = (text: string, place = 'above') =>
  `<direction placement="${place}"><direction-type><words>${text}</words></direction-type></direction>`;
const JUMPS = { dc: 'D.C.', ds: 'D.S.' };

function before(bar: TuneBar): string {
  const found: string[] = [];
  const sign = (inner: string) =>
    found.push(`<direction placement="above"><direction-type>${inner}</direction-type></direction>`);
  if (bar.section !== undefined) sign(`<rehearsal>${bar.section}</rehearsal>`);
  if (bar.segno === true) sign('<segno/>');
  if (bar.coda === true) sign('<coda/>');
  return found.join('');
}

function after(bar: TuneBar): string {
  const found: string[] = [];
  if (bar.toCoda === true) found.push(words('To Coda'));
  if (bar.fine === true) found.push(words('Fine'));
  if (bar.jump)
    found.push(
      words(
        JUMPS[bar.jump.from] +
          (bar.jump.al === undefined ? '' : ` al ${bar.jump.al === 'fine' ? 'Fine' : 'Coda'}`),
      ),
    );
  return found.join('');
}

function leftLine(bar: TuneBar, previous: TuneBar | undefined): string {
  const starts = bar.ending !== undefined && previous?.ending !== bar.ending;
  if (bar.repeatStart !== true && !starts) return '';
  const style = bar.repeatStart === true ? '<bar-style>heavy-light</bar-style>' : '';
  const ending = starts ? `<ending number="${bar.ending}" type="start">${bar.ending}.</ending>` : '';
  return `<barline location="left">${style}${ending}${bar.repeatStart === true ? '<repeat direction="forward"/>' : ''}</barline>`;
}

function rightLine(bar: TuneBar, next: TuneBar | undefined): string {
  const ends = bar.ending !== undefined && next?.ending !== bar.ending;
  const style =
    bar.repeatEnd === true || next === undefined ? 'light-heavy' : bar.double === true ? 'light-light' : '';
  if (style === '' && !ends) return '';
  const type = bar.repeatEnd === true ? 'stop' : 'discontinue';
  return `<barline location="right">${style === '' ? '' : `<bar-style>${style}</bar-style>`}${ends ? `<ending number="${bar.ending}" type="${type}"/>` : ''}${bar.repeatEnd === true ? '<repeat direction="backward"/>' : ''}</barline>`;
}

function chordXml({ root, alter, kind, at }: Chord): string {
  const [name, text] = KINDS[kind];
  return `<harmony><root><root-step>${LETTERS[root]}</root-step>${alter === 0 ? '' : `<root-alter>${alter}</root-alter>`}</root><kind text="${text}">${name}</kind>${at === 0 ? '' : `<offset>${at}</offset>`}</harmony>`;
}

/** The tune as a MusicXML document. */
export function musicXml(tune: Tune): string {
  let meter = tune.meter;
  const measures = tune.bars.map((bar, i) => {
    meter = bar.meter ?? meter;
    const length = lengthOf(meter);
    const first =
      i === 0
        ? `<divisions>4</divisions><key><fifths>${tune.key}</fifths></key><time><beats>${meter.beats}</beats><beat-type>${meter.value}</beat-type></time>${tune.staves === 2 ? '<staves>2</staves>' : ''}<clef number="1"><sign>G</sign><line>2</line></clef>${tune.staves === 2 ? '<clef number="2"><sign>F</sign><line>4</line></clef>' : ''}`
        : bar.meter
          ? `<time><beats>${meter.beats}</beats><beat-type>${meter.value}</beat-type></time>`
          : '';
    const rests =
      bar.rests === undefined
        ? ''
        : `<measure-style><multiple-rest>${bar.rests}</multiple-rest></measure-style>`;
    const attributes = first + rests === '' ? '' : `<attributes>${first}${rests}</attributes>`;
    const held = bar.notes.reduce((sum, note) => sum + note.length, 0);
    const second =
      tune.staves === 2
        ? `<backup><duration>${held}</duration></backup>${staffXml(bar.bass, 2, tune, meter)}`
        : '';
    const silent: Note[] = [{ step: null, alter: 0, length }];
    const number = tune.bars[0]!.pickup === true ? i : i + 1;
    // The bars that a rest of many stands for are all there; the first says that they are drawn as one.
    const others = Array.from(
      { length: (bar.rests ?? 1) - 1 },
      (_, k) => `<measure number="${number}.${k}">${staffXml(silent, 1, tune, meter)}</measure>`,
    ).join('');
    return `<measure number="${number}"${bar.pickup === true ? ' implicit="yes"' : ''}>${leftLine(bar, tune.bars[i - 1])}${attributes}${before(bar)}${bar.chords.map(chordXml).join('')}${staffXml(bar.rests === undefined ? bar.notes : silent, 1, tune, meter)}${second}${after(bar)}${rightLine(bar, tune.bars[i + 1])}</measure>${others}`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><work><work-title>Tune ${tune.seed}</work-title></work><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">${measures.join('')}</part></score-partwise>`;
}
