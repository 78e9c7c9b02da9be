/** Tunes of bars that differ in one sign: no twins, though they look nearly alike. */
import { barOf } from './music.ts';
import { classesOf } from './index.ts';
import { Random } from './random.ts';
import type { Chord, Meter, Note, Tune, TuneBar } from './types.ts';

type Change = (bar: TuneBar, random: Random) => TuneBar | null;

/** Changes one of the notes that allow it. */
function changed(
  bar: TuneBar,
  random: Random,
  allows: (note: Note, i: number) => boolean,
  change: (note: Note) => Note,
): TuneBar | null {
  const places = bar.notes.flatMap((note, i) => (allows(note, i) ? [i] : []));
  if (places.length === 0) return null;
  const at = random.pick(places);
  return { ...bar, notes: bar.notes.map((note, i) => (i === at ? change(note) : note)) };
}

function withChord(bar: TuneBar, random: Random, change: (chord: Chord) => Chord): TuneBar | null {
  if (bar.chords.length === 0) return null;
  const at = random.below(bar.chords.length);
  return { ...bar, chords: bar.chords.map((chord, i) => (i === at ? change(chord) : chord)) };
}

/** Chord symbols that are easily taken for each other. */
const LIKE: Record<Chord['kind'], readonly Chord['kind'][]> = {
  '': ['m', '7', '6'],
  m: ['', 'm7'],
  7: ['6', ''],
  6: ['7', ''],
  m7: ['m', '7'],
  maj7: ['7', 'm7'],
  dim: ['', 'm'],
};

const CHANGES: Record<string, Change> = {
  accidental: (bar, random) =>
    changed(
      bar,
      random,
      ({ step }, i) => step !== null && bar.notes.every((other, k) => k === i || other.step !== step),
      (note) => ({ ...note, alter: note.alter === 0 ? random.pick([-1, 1]) : 0 }),
    ),
  step: (bar, random) =>
    changed(
      bar,
      random,
      ({ step }) => step !== null && step < 12,
      (note) => ({ ...note, step: note.step! + 1, alter: 0 }),
    ),
  // 6 + 2 and 4 + 4 differ in a dot and a flag.
  dot: (bar, random) => {
    const places = bar.notes.flatMap(({ length }, i) => {
      const next = bar.notes[i + 1]?.length;
      return (length === 4 && next === 4) || (length === 6 && next === 2) ? [i] : [];
    });
    if (places.length === 0) return null;
    const at = random.pick(places);
    const [first, second] = bar.notes[at]!.length === 4 ? [6, 2] : [4, 4];
    const length = (i: number, own: number) => (i === at ? first : i === at + 1 ? second : own);
    return { ...bar, notes: bar.notes.map((note, i) => ({ ...note, length: length(i, note.length) })) };
  },
  tie: (bar, random) =>
    changed(
      bar,
      random,
      ({ step, alter }, i) =>
        step !== null && bar.notes[i + 1]?.step === step && bar.notes[i + 1]?.alter === alter,
      ({ tie, ...note }) => (tie === true ? note : { ...note, tie: true }),
    ),
  rest: (bar, random) =>
    changed(
      bar,
      random,
      ({ step }) => step !== null,
      (note) => ({ length: note.length, step: null, alter: 0 }),
    ),
  root: (bar, random) =>
    withChord(bar, random, (chord) => ({ ...chord, root: (chord.root + 1 + random.below(6)) % 7 })),
  flat: (bar, random) => withChord(bar, random, (chord) => ({ ...chord, alter: chord.alter === 0 ? -1 : 0 })),
  kind: (bar, random) =>
    withChord(bar, random, (chord) => ({ ...chord, kind: random.pick(LIKE[chord.kind]) })),
};

const BASES = 5;
const METER: Meter = { beats: 4, value: 4 };

/** The tune of a seed: every bar written twice, and changed in one sign in some ways; the same for ever. */
export function nearTuneOf(seed: number): Tune {
  const random = new Random(seed * 6101 + 7);
  const key = random.below(8) - 4;
  const kinds = Object.keys(CHANGES);
  const bars: TuneBar[] = [];
  for (let base = 0; base < BASES; base++) {
    let bar = barOf(random, METER, key, 1);
    while (bar.notes.length < 3) bar = barOf(random, METER, key, 1);
    // Two notes of one pitch, so that a tie can be.
    const at = bar.notes.findIndex(
      ({ step }, i) => step !== null && (bar.notes[i + 1]?.step ?? null) !== null,
    );
    if (at >= 0 && random.chance(0.5)) {
      const { step, alter } = bar.notes[at]!;
      bar = { ...bar, notes: bar.notes.map((note, i) => (i === at + 1 ? { ...note, step, alter } : note)) };
    }
    const others = [0, 1, 2, 3, 4].flatMap(() => CHANGES[random.pick(kinds)]!(bar, random) ?? []);
    bars.push(bar, ...others.slice(0, 2), bar, ...others.slice(2));
  }
  return tuneFrom('near', seed, random, key, bars);
}

/** A section that comes back twice, three of its bars changed in one sign each time: what no whole answer is right for. */
export function nearSectionsOf(seed: number): Tune {
  const random = new Random(seed * 5303 + 11);
  const key = random.below(8) - 4;
  const kinds = Object.keys(CHANGES);
  const section = Array.from({ length: 8 }, () => barOf(random, METER, key, 1));
  const again = () => {
    const places = new Set([random.below(8), random.below(8), random.below(8)]);
    return section.map((bar, i) => (places.has(i) && CHANGES[random.pick(kinds)]!(bar, random)) || bar);
  };
  const named = (bars: readonly TuneBar[]) =>
    bars.map((bar, i) => (i === 0 ? { ...bar, section: 'A' } : bar));
  return tuneFrom('sections', seed, random, key, [...named(section), ...named(again()), ...named(again())]);
}

function tuneFrom(form: string, seed: number, random: Random, key: number, bars: readonly TuneBar[]): Tune {
  return {
    name: `${form}-${seed}`,
    seed,
    form,
    key,
    meter: METER,
    staves: 1,
    bars,
    route: bars.map((_, i) => i),
    classes: classesOf(bars),
    size: random.pick([1, 1, 0.85, 1.2]),
    paper: 'a4',
  };
}
