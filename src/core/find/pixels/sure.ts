/** The log-odds of what the net says become those of a bar's being right so (tests/corpus/scans/calibrate.ts). */
const SLOPE = 0.571;
const SHIFT = 1.909;
/** No chance is nearer to 0 or 1 than this. */
const LEAST = 1e-6;

export function logOdds(chance: number): number {
  const inside = Math.max(LEAST, Math.min(1 - LEAST, chance));
  return Math.log(inside / (1 - inside));
}

/** How sure a bar is, from the chance that the net gives it. */
export const calibrated = (chance: number) => 1 / (1 + Math.exp(-SLOPE * logOdds(chance) - SHIFT));
