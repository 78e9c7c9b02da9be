import type { Bar, Marks } from './types.ts';

/** What version 1 has no word for. */
const NEW_IN_BARS = [
  'segno',
  'coda',
  'toCoda',
  'fine',
  'jump',
  'restBars',
  'when',
  'found',
] as const satisfies (keyof Bar)[];

/**
 * Marks under the lowest version that can hold what they say, so that charts without a jump stay readable
 * wherever they were. Returns the very same marks when the version fits already.
 */
export function withVersion(marks: Marks): Marks {
  const isNew =
    marks.choruses !== undefined ||
    marks.conventions !== undefined ||
    marks.byHand !== undefined ||
    marks.systems.some(({ bars }) => bars.some((bar) => NEW_IN_BARS.some((key) => bar[key] !== undefined)));
  const isAskew = marks.systems.some(({ lean }) => lean !== undefined);
  const version = isAskew
    ? 6
    : marks.unlike !== undefined
      ? 5
      : marks.turns !== undefined
        ? 4
        : marks.turn !== undefined
          ? 3
          : isNew
            ? 2
            : 1;
  return marks.version === version ? marks : { ...marks, version };
}
