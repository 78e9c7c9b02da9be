import { forms, makePage, type Setting } from './forms.ts';
import { Random } from './random.ts';
import type { Meter, Tune, TuneBar } from './types.ts';

const METERS: readonly Meter[] = [
  { beats: 4, value: 4 },
  { beats: 4, value: 4 },
  { beats: 3, value: 4 },
  { beats: 6, value: 8 },
  { beats: 5, value: 4 },
];

/** The invented tune of a seed; the same for ever. */
export function tuneOf(seed: number): Tune {
  const random = new Random(seed * 7919 + 13);
  const names = Object.keys(forms);
  const form = names[seed % names.length]!;
  const plain = ['through', 'resting'].includes(form);
  const setting: Setting = {
    random,
    meter: plain ? METERS[random.below(3)]! : random.pick(METERS),
    key: random.below(8) - 4,
    staves: form !== 'resting' && random.chance(0.25) ? 2 : 1,
  };
  const made = forms[form]!(makePage(setting));
  return {
    name: `${form}-${seed}`,
    seed,
    form,
    key: setting.key,
    meter: setting.meter,
    staves: setting.staves,
    ...made,
    classes: classesOf(made.bars),
    size: random.pick([1, 1, 0.85, 1.2]),
    paper: random.pick(['a4', 'a4', 'letter', 'a4landscape'] as const),
  };
}

/** Bars that came out alike by chance are alike, however they were made. */
export function classesOf(bars: readonly TuneBar[]): number[] {
  const music = bars.map(({ notes, bass, chords, rests }) => JSON.stringify([notes, bass, chords, rests]));
  return music.map((text) => music.indexOf(text));
}

/** The tune for engravers that hang chord symbols on notes: those between notes are left out, bars without them alike. */
export function chordsOnNotes(tune: Tune): Tune {
  const bars = tune.bars.map((bar): TuneBar => {
    const starts = bar.notes.map((_, i) =>
      bar.notes.slice(0, i).reduce((sum, { length }) => sum + length, 0),
    );
    return { ...bar, chords: bar.chords.filter(({ at }) => starts.includes(at)) };
  });
  return { ...tune, bars, classes: classesOf(bars) };
}
