/**
 * Expected number of passes until `n` in a row are clean, at chance `p` of a clean pass:
 * (p^-n − 1)/(1 − p). W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, XIII.7.
 * Infinite at p = 0. Throws RangeError for p outside 0–1 or n that is no whole number above 0.
 */
export function expectedPasses(p: number, n: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError('a chance lies between 0 and 1');
  if (!Number.isInteger(n) || n < 1) throw new RangeError('a streak is a whole number above 0');
  // The formula is the sum of p^-k for k = 1…n; summed, it keeps its digits near 1 and its limit at 1.
  let sum = 0;
  for (let k = 1; k <= n; k++) sum += p ** -k;
  return sum;
}
