import type { BeatUnit, Meter } from './types.ts';

/** Lengths as fractions of a whole note. */
const LENGTHS: Record<BeatUnit, number> = {
  sixteenth: 1 / 16,
  eighth: 1 / 8,
  'dotted-eighth': 3 / 16,
  quarter: 1 / 4,
  'dotted-quarter': 3 / 8,
  half: 1 / 2,
  'dotted-half': 3 / 4,
};

/** Length of a beat unit as a fraction of a whole note: a quarter is 0.25. */
export function unitLength(unit: BeatUnit): number {
  return LENGTHS[unit];
}

/**
 * The note that the tempo counts in a meter: what the player chose, else the meter's convention
 * (common practice, no source): a dotted quarter in 6/8, 9/8, 12/8, a half in cut time, a quarter
 * wherever it divides the bar, otherwise the printed value, as in 5/8 and 7/8.
 */
export function unitOf(meter: Meter, chosen: BeatUnit | null): BeatUnit {
  if (chosen !== null) return chosen;
  const { beats, value } = meter;
  const inThrees = beats > 3 && beats % 3 === 0;
  if (value <= 2) return 'half';
  if (value === 4) return 'quarter';
  if (value === 8 && inThrees) return 'dotted-quarter';
  if (value === 16 && inThrees) return 'dotted-eighth';
  if (beats % (value / 4) === 0) return 'quarter';
  if (value === 16 && beats % 2 === 1) return 'sixteenth';
  return 'eighth';
}

/** Beats of `unit` in a bar of `meter`; a fraction where the unit does not divide the bar. */
export function beatsOf(meter: Meter, unit: BeatUnit): number {
  return meter.beats / meter.value / unitLength(unit);
}
