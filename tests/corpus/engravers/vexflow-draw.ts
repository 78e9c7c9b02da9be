/**
 * Draws a tune with VexFlow, in a browser's page: it is handed to the page as text, so that nothing but its
 * arguments and what it declares can be used in it.
 */
import type * as Library from 'vexflow';
import type { Note, Tune, TuneBar } from '../tunes/types.ts';

/** A bar line as VexFlow set it: edges in CSS pixels of its page, its type by VexFlow's own name. */
export interface VexLine {
  readonly left: number;
  readonly right: number;
  readonly type: string;
}

export interface VexSystem {
  readonly top: number;
  readonly bottom: number;
  readonly x0: number;
  readonly x1: number;
  readonly lines: readonly VexLine[];
}

/** Puts one div with an SVG for each page into the body; gives the systems of each page. */
export function drawTune(tune: Tune, wide: number, high: number): VexSystem[][] {
  // The script's one global is its class with everything else on it; its types say so of the module.
  const { VexFlow: V } = globalThis as unknown as { VexFlow: typeof Library & typeof Library.VexFlow };
  const { Barline, Repetition, Stave, StaveConnector, StaveNote, Volta } = V;
  V.setFonts(
    ...[
      ['Bravura', 'Academico'],
      ['Gonville', 'Academico'],
      ['Petaluma', 'Petaluma Script'],
    ][tune.seed % 3]!,
  );
  const scale = 0.85 * tune.size;
  const [width, height] = [wide / scale, high / scale];
  const MARGIN = 45;
  const keys = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
  const key = keys[tune.key + 7]!;
  const LENGTHS: Record<number, string> = {
    16: 'w',
    12: 'hd',
    8: 'h',
    6: 'qd',
    4: 'q',
    3: '8d',
    2: '8',
    1: '16',
  };

  const rows: number[][] = [[]];
  tune.bars.forEach((bar, i) => {
    rows.at(-1)!.push(i);
    const full = rows.at(-1)!.filter((k) => tune.bars[k]!.pickup !== true).length;
    if (full === (tune.size > 1 ? 3 : 4) && i + 1 < tune.bars.length) rows.push([]);
  });

  const meters: (typeof tune.meter)[] = [];
  for (const bar of tune.bars) meters.push(bar.meter ?? meters.at(-1) ?? tune.meter);

  function notesOf(list: readonly Note[], clef: string) {
    return list.map((note) => {
      const name = LENGTHS[note.length] ?? 'w';
      const { step } = note;
      if (step === null) {
        const whole = list.length === 1;
        const place = clef === 'bass' ? 'd/3' : 'b/4';
        const rest = new StaveNote({
          keys: [place],
          duration: `${whole ? 'w' : name}r`,
          clef,
          alignCenter: whole,
        });
        if (!whole && name.endsWith('d')) V.Dot.buildAndAttach([rest], { all: true });
        return rest;
      }
      const sign = note.alter > 0 ? '#' : note.alter < 0 ? 'b' : '';
      const pitch = `${'cdefgab'[((step % 7) + 7) % 7]!}${sign}/${Math.floor(step / 7) + 4}`;
      const made = new StaveNote({ keys: [pitch], duration: name, clef, autoStem: true });
      if (name.endsWith('d')) V.Dot.buildAndAttach([made], { all: true });
      return made;
    });
  }

  function chordsOn(bar: TuneBar, notes: Library.StaveNote[]) {
    let at = 0;
    bar.notes.forEach((note, i) => {
      const chord = bar.chords.find((one) => one.at === at);
      at += note.length;
      if (chord === undefined) return;
      const root = 'CDEFGAB'[chord.root]!;
      if (tune.seed % 2 === 0) {
        const text = `${root}${chord.alter < 0 ? 'b' : chord.alter > 0 ? '#' : ''}${chord.kind}`;
        notes[i]!.addModifier(new V.Annotation(text).setFont('Times', 13), 0);
        return;
      }
      const symbol = new V.ChordSymbol().addText(root);
      if (chord.alter !== 0) symbol.addGlyph(chord.alter < 0 ? 'b' : '#');
      if (chord.kind !== '') symbol.addTextSuperscript(chord.kind);
      notes[i]!.addModifier(symbol, 0);
    });
  }

  let context: Library.RenderContext;
  let frame: DOMRect;
  const pages: VexSystem[][] = [];
  function newPage() {
    const div = document.createElement('div');
    document.body.append(div);
    const renderer = new V.Renderer(div, V.Renderer.Backends.SVG);
    renderer.resize(wide, high);
    context = renderer.getContext();
    context.scale(scale, scale);
    frame = div.getBoundingClientRect();
    pages.push([]);
  }

  function signsOn(stave: Library.Stave, i: number) {
    const bar = tune.bars[i]!;
    const [before, after] = [tune.bars[i - 1], tune.bars[i + 1]];
    const { type } = Repetition;
    if (bar.section !== undefined) stave.setSection(bar.section, 0);
    if (bar.segno === true) stave.setRepetitionType(type.SEGNO_LEFT);
    if (bar.toCoda === true) stave.setRepetitionType(type.TO_CODA);
    if (bar.fine === true) stave.setRepetitionType(type.FINE);
    if (bar.jump) {
      const { from, al } = bar.jump;
      const name = `${from.toUpperCase()}${al === undefined ? '' : `_AL_${al.toUpperCase()}`}`;
      stave.setRepetitionType(type[name as keyof typeof type]);
    }
    if (bar.ending === undefined) return;
    const [starts, ends] = [before?.ending !== bar.ending, after?.ending !== bar.ending];
    const kind = starts && ends ? 'BEGIN_END' : starts ? 'BEGIN' : ends ? 'END' : 'MID';
    stave.setVoltaType(Volta.type[kind], starts ? `${bar.ending}.` : '', -5);
  }

  /** One bar's staves, with their music; gives its bar lines. */
  function drawBar(i: number, x: number, y: number, barWidth: number, isFirst: boolean): VexLine[] {
    const bar = tune.bars[i]!;
    const next = tune.bars[i + 1];
    const meter = meters[i]!;
    const isLast = i + 1 === tune.bars.length;
    const { type } = Barline;
    const startsNext = next?.repeatStart === true && !rows.some((row) => row[0] === i + 1);
    const end =
      bar.repeatEnd === true
        ? type.REPEAT_END
        : isLast
          ? type.END
          : startsNext
            ? type.NONE
            : bar.double === true
              ? type.DOUBLE
              : type.SINGLE;
    const begin = bar.repeatStart === true ? type.REPEAT_BEGIN : isFirst ? type.SINGLE : type.NONE;
    const clefs = tune.staves === 2 ? ['treble', 'bass'] : ['treble'];
    const staves = clefs.map((clef, s) => {
      const stave = new Stave(x, y + s * 110, barWidth);
      stave.setBegBarType(begin).setEndBarType(end);
      if (isFirst) stave.addClef(clef).addKeySignature(key);
      if (bar.meter !== undefined || i === 0) stave.addTimeSignature(`${meter.beats}/${meter.value}`);
      if (s === 0) signsOn(stave, i);
      return stave;
    });
    const start = Math.max(...staves.map((stave) => stave.getNoteStartX()));
    staves.forEach((stave) => stave.setNoteStartX(start).setContext(context).draw());
    if (bar.coda === true)
      new Repetition(Repetition.type.NONE, 0, 0).setContext(context).drawCodaFixed(staves[0]!, x);
    if (tune.staves === 2) {
      const joined = (kind: Library.StaveConnectorType) =>
        new StaveConnector(staves[0]!, staves[1]!).setType(kind).setContext(context).draw();
      if (isFirst) joined('singleLeft');
      if (isFirst && tune.seed % 2 === 0) joined('brace');
      if (end === type.END || end === type.REPEAT_END) joined('boldDoubleRight');
      else if (end === type.DOUBLE) joined('thinDouble');
      else if (end === type.SINGLE) joined('singleRight');
    }
    if (bar.rests !== undefined) {
      const rest = new V.MultiMeasureRest(bar.rests, { numberOfMeasures: bar.rests });
      rest.setStave(staves[0]!).setContext(context).draw();
    } else {
      const total = (meter.beats * 16) / meter.value;
      const lists = [bar.notes, bar.bass].slice(0, tune.staves);
      const made = lists.map((list, s) => {
        const silent: Note[] = [{ step: null, alter: 0, length: total }];
        return notesOf(list.length === 0 ? silent : list, clefs[s]!);
      });
      chordsOn(bar, made[0]!);
      const voices = made.map((notes) => {
        const voice = new V.Voice({ numBeats: meter.beats, beatValue: meter.value });
        return voice.setMode(V.VoiceMode.SOFT).addTickables(notes);
      });
      V.Accidental.applyAccidentals([voices[0]!], key);
      if (voices[1]) V.Accidental.applyAccidentals([voices[1]], key);
      const groups = [meter.value === 8 ? new V.Fraction(3, 8) : new V.Fraction(1, 4)];
      const beams = made.map((notes) => V.Beam.generateBeams(notes, { groups }));
      const formatter = new V.Formatter();
      voices.forEach((voice) => formatter.joinVoices([voice]));
      formatter.format(voices, x + barWidth - start - 12);
      voices.forEach((voice, s) => voice.draw(context, staves[s]));
      beams.flat().forEach((beam) => beam.setContext(context).draw());
      bar.notes.forEach(({ tie }, k) => {
        const [firstNote, lastNote] = [made[0]![k], made[0]![k + 1]];
        if (tie !== true || !firstNote || !lastNote) return;
        new V.StaveTie({ firstNote, lastNote, firstIndexes: [0], lastIndexes: [0] })
          .setContext(context)
          .draw();
      });
    }
    return (staves[0]!.getModifiers(undefined, Barline.CATEGORY) as any[]).flatMap((line) => {
      const group = document.getElementById(`vf-${String(line.getAttribute('id'))}`);
      const boxes = [...(group?.querySelectorAll('rect') ?? [])].map((rect) => rect.getBoundingClientRect());
      // Before a start repeat behind the clef it draws the staff's own first line, which is no bar's.
      const edge = frame.left + (x + 3) * scale;
      const own = isFirst ? boxes.filter((box) => box.left > edge) : boxes;
      if (own.length === 0) return [];
      return [
        {
          left: Math.min(...own.map((box) => box.left)) - frame.left,
          right: Math.max(...own.map((box) => box.right)) - frame.left,
          type: type[Number(line.getType())]!,
        },
      ];
    });
  }

  newPage();
  const depth = tune.staves === 2 ? 250 : 140;
  context!.setFont('Times', 24);
  const title = `Tune ${tune.seed}`;
  context!.fillText(title, width / 2 - context!.measureText(title).width / 2, 45);
  let y = 60;
  for (const row of rows) {
    if (y + depth > height) {
      newPage();
      y = 60;
    }
    const probe = new Stave(0, 0, 300).addClef('treble').addKeySignature(key);
    if (row[0] === 0) probe.addTimeSignature('4/4');
    const head = probe.getNoteStartX();
    const weights = row.map((i) => 3 + Math.max(tune.bars[i]!.notes.length, tune.bars[i]!.bass.length));
    const whole = weights.reduce((a, b) => a + b, 0);
    const isRagged = row.at(-1) === tune.bars.length - 1 && tune.seed % 3 === 0;
    const room = (width - 2 * MARGIN - head) * (isRagged ? Math.min(1, row.length / 4) : 1);
    let x = MARGIN;
    const lines = row.flatMap((i, k) => {
      const barWidth = (room * weights[k]!) / whole + (k === 0 ? head : 0);
      const drawn = drawBar(i, x, y, barWidth, k === 0);
      x += barWidth;
      return drawn;
    });
    const first = new Stave(MARGIN, y, 100);
    const last = new Stave(MARGIN, y + (tune.staves - 1) * 110, 100);
    pages.at(-1)!.push({
      top: first.getYForLine(0) * scale,
      bottom: last.getYForLine(4) * scale,
      x0: MARGIN * scale,
      x1: x * scale,
      lines,
    });
    y += depth;
  }
  return pages;
}
