import type { Random } from './random.ts';
import type { Chord, Meter, Note, TuneBar } from './types.ts';

/** Rhythms of a beat group of so many sixteenths. */
const RHYTHMS: Record<number, readonly (readonly number[])[]> = {
  4: [[4], [2, 2], [3, 1], [4], [2, 1, 1], [1, 1, 1, 1]],
  8: [[8], [6, 2], [4, 4], [2, 4, 2], [4, 2, 2], [2, 2, 2, 2], [6, 1, 1]],
  12: [[12], [8, 4], [4, 8], [4, 4, 4], [6, 2, 4]],
  16: [[16], [12, 4], [8, 8]],
  6: [[6], [4, 2], [2, 2, 2]],
};

const groupsOf = ({ beats, value }: Meter): number[] => {
  const length = (beats * 16) / value;
  if (value === 8 && beats % 3 === 0) return Array.from({ length: beats / 3 }, () => 6);
  if (length === 16) return [8, 8];
  if (length === 12) return [12];
  if (length === 20) return [12, 8];
  if (length === 8) return [8];
  return Array.from({ length: Math.floor(length / 4) }, () => 4);
};

export const lengthOf = ({ beats, value }: Meter) => (beats * 16) / value;

/** Alteration that the key signature gives a step. */
export function keyAlter(step: number, key: number): number {
  const sharps = [3, 0, 4, 1, 5, 2, 6];
  const letter = ((step % 7) + 7) % 7;
  if (key > 0) return sharps.slice(0, key).includes(letter) ? 1 : 0;
  return [...sharps].reverse().slice(0, -key).includes(letter) ? -1 : 0;
}

/** The accidental before each note of a bar: its alteration where neither the key nor an earlier one says it, else null. */
export function accidentalsOf(notes: readonly Note[], key: number): (number | null)[] {
  const given = new Map<number, number>();
  return notes.map(({ step, alter }) => {
    if (step === null) return null;
    const holds = given.get(step) ?? keyAlter(step, key);
    given.set(step, alter);
    return holds === alter ? null : alter;
  });
}

function melody(
  random: Random,
  lengths: readonly number[],
  key: number,
  low: number,
  high: number,
  restful: number,
): Note[] {
  let step = low + random.below(high - low);
  return lengths.map((length): Note => {
    if (random.chance(restful)) return { step: null, alter: 0, length };
    step = Math.min(high, Math.max(low, step + random.below(7) - 3));
    const natural = keyAlter(step, key);
    const alter = random.chance(0.08) ? (natural === 0 ? random.pick([-1, 1]) : 0) : natural;
    return { step, alter, length };
  });
}

export function chordsOf(random: Random, meter: Meter): Chord[] {
  const length = lengthOf(meter);
  const ats = length >= 16 && random.chance(0.35) ? [0, length / 2] : [0];
  return ats.map((at) => ({
    at,
    root: random.below(7),
    alter: random.chance(0.15) ? -1 : 0,
    kind: random.pick(['', 'm', '7', 'm7', 'maj7', 'dim'] as const),
  }));
}

/** One bar of invented music. */
export function barOf(random: Random, meter: Meter, key: number, staves: 1 | 2): TuneBar {
  const length = lengthOf(meter);
  const isEmpty = random.chance(0.05);
  const groups = isEmpty ? [] : groupsOf(meter);
  const rhythm =
    random.chance(0.1) && [16, 12, 8].includes(length)
      ? [length]
      : groups.flatMap((group) => [...random.pick(RHYTHMS[group]!)]);
  const notes = isEmpty ? [{ step: null, alter: 0, length }] : melody(random, rhythm, key, 1, 12, 0.1);
  const bassRhythm = groupsOf(meter).flatMap((group) => [...random.pick(RHYTHMS[group]!.slice(0, 3))]);
  const bass = staves === 2 ? melody(random, bassRhythm, key, -14, -4, 0.05) : [];
  return { notes, bass, chords: chordsOf(random, meter) };
}
