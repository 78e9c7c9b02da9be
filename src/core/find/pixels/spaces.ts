/** Narrowest and widest distance of staff lines that is looked for, pixels. */
const NARROWEST = 4;
const WIDEST = 44;
/** Lags that are needed for that: three spaces. */
export const LAGS = 3 * WIDEST + 2;
/** So many sizes of staves are looked for on a page. */
const SIZES = 3;
/** Likeness of a page to itself, one space on, below which there are no staves. */
const LEAST = 0.04;

/** Likely distances of staff lines, most likely first: the page is like itself one, two and three spaces on. */
export function spacesOf(likeness: Float32Array): number[] {
  const at = (lag: number) => {
    const low = Math.floor(lag);
    return likeness[low]! + (likeness[low + 1]! - likeness[low]!) * (lag - low);
  };
  const STEP = 0.25;
  const count = Math.round((WIDEST - NARROWEST) / STEP) + 1;
  const scores = Array.from({ length: count }, (_, k) => {
    const d = NARROWEST + k * STEP;
    // Five lines share four pairs one space apart, three pairs two apart, two pairs three apart.
    const comb = (4 * at(d) + 3 * at(2 * d) + 2 * at(3 * d)) / 9;
    if (at(d) < 0.5 * at(2 * d)) return 0;
    const between = Math.max(0, at(1.5 * d), d >= 2 * NARROWEST ? at(0.5 * d) : 0);
    return comb - between;
  });
  const peaks = scores
    .map((score, k) => ({ score, space: NARROWEST + k * STEP, k }))
    .filter(
      ({ score, k }) => score >= LEAST && score >= (scores[k - 1] ?? 0) && score >= (scores[k + 1] ?? 0),
    )
    .sort((a, b) => b.score - a.score);
  const kept: number[] = [];
  for (const { space } of peaks)
    if (kept.length < SIZES && kept.every((one) => !isMultiple(one, space))) kept.push(space);
  return kept;
}

/** A page of staves is like itself two and three spaces on, too. */
function isMultiple(a: number, b: number): boolean {
  const ratio = Math.max(a, b) / Math.min(a, b);
  return ratio < 1.12 || [2, 3, 4].some((times) => Math.abs(ratio / times - 1) < 0.06);
}
