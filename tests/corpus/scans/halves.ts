/** Which charts are for what: even seeds for learning and tuning, odd ones only to report. */

/** A chart that tuning looks at and learning never sees: one of ten of the even seeds. */
export const isKept = (seed: number) => (seed / 2) % 10 === 7;

export const isIn: Record<string, (seed: number) => boolean> = {
  learning: (seed) => seed % 2 === 0 && !isKept(seed),
  tuning: isKept,
  even: (seed) => seed % 2 === 0,
  report: (seed) => seed % 2 === 1,
};
