import { edit, fromProposal, type Edit } from '../../../src/core/chart/edit.ts';
import type { Marks } from '../../../src/core/chart/types.ts';

/** Ids in order: n1, n2, … */
export function counter(): () => string {
  let last = 0;
  return () => `n${(last += 1)}`;
}

export const apply = (marks: Marks, commands: readonly Edit[], newId = counter()): Marks =>
  commands.reduce((all, command) => edit(all, command, newId), marks);

/** Two systems of four bars on page 0: s1 (a b c d) and s2 (e f g h). */
export function twoLines(): Marks {
  const line = (id: string, top: number, ids: string) => ({
    id,
    page: 0,
    top,
    bottom: top + 0.05,
    bars: Array.from(ids, (bar, i) => ({ id: bar, x0: 0.1 + i * 0.2, x1: 0.1 + (i + 1) * 0.2 })),
  });
  return fromProposal([line('s1', 0.1, 'abcd'), line('s2', 0.25, 'efgh')]);
}

/** Freezes all the way down, so that an edit that mutates throws. */
export function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null) {
    Object.values(value).forEach(frozen);
    Object.freeze(value);
  }
  return value;
}

export const barOf = (marks: Marks, id: string) =>
  marks.systems.flatMap((system) => system.bars).find((bar) => bar.id === id);
