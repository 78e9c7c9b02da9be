import type { FoundSign } from '../types.ts';

/** Numbers in boxes count bars where they grow by as many as there are between them, give or take a split bar. */
const OFF = 1;
/** Sections that are numbered grow by one; so many bars apart the two cannot be taken for each other. */
const LEAST = 3;

/**
 * Signs of a page without the numbers that only count its bars: those in boxes over the first bars of lines, `firsts`.
 * A number over a line is a section's, unless most of them tell how many bars there are from one to the next.
 */
export function withoutBarNumbers(signs: readonly FoundSign[], firsts: ReadonlySet<number>): FoundSign[] {
  const isNumber = ({ kind, text = '', bar }: FoundSign) =>
    kind === 'section' && /^\d+$/.test(text) && firsts.has(bar);
  const numbers = signs.filter(isNumber);
  const steps = numbers.slice(1).map((sign, i) => {
    const before = numbers[i]!;
    const grown = Number(sign.text) - Number(before.text);
    return grown >= LEAST && Math.abs(grown - (sign.bar - before.bar)) <= OFF;
  });
  const count = steps.filter(Boolean).length;
  return count > 0 && 2 * count >= steps.length ? signs.filter((sign) => !isNumber(sign)) : [...signs];
}
