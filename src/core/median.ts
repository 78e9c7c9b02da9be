/** The middle of values by size, of an even number the upper one of the two; 0 of none. Does not change `values`. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}
