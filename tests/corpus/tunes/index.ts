import { forms, makePage, type Setting } from './forms.ts';
import { Random } from './random.ts';
import type { Meter, Tune } from './types.ts';

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
  // Bars that came out alike by chance are alike, however they were made.
  const music = made.bars.map(({ notes, bass, chords, rests }) =>
    JSON.stringify([notes, bass, chords, rests]),
  );
  const classes = music.map((text) => music.indexOf(text));
  return {
    name: `${form}-${seed}`,
    seed,
    form,
    key: setting.key,
    meter: setting.meter,
    staves: setting.staves,
    ...made,
    classes,
    size: random.pick([1, 1, 0.85, 1.2]),
    paper: random.pick(['a4', 'a4', 'letter', 'a4landscape'] as const),
  };
}
