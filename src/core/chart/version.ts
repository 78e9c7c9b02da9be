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

/** What each version has a word for and those before it have not, the newest first. */
const VERSIONS: readonly (readonly [Marks['version'], (marks: Marks) => boolean])[] = [
  [6, ({ systems }) => systems.some(({ lean }) => lean !== undefined)],
  [5, ({ unlike }) => unlike !== undefined],
  [4, ({ turns }) => turns !== undefined],
  [3, ({ turn }) => turn !== undefined],
  [
    2,
    ({ choruses, conventions, byHand, systems }) =>
      choruses !== undefined ||
      conventions !== undefined ||
      byHand !== undefined ||
      systems.some(({ bars }) => bars.some((bar) => NEW_IN_BARS.some((key) => bar[key] !== undefined))),
  ],
];

/**
 * Marks under the lowest version that can hold what they say, so that charts without a jump stay readable
 * wherever they were. Returns the very same marks when the version fits already.
 */
export function withVersion(marks: Marks): Marks {
  const version = VERSIONS.find(([, isNeeded]) => isNeeded(marks))?.[0] ?? 1;
  return marks.version === version ? marks : { ...marks, version };
}
