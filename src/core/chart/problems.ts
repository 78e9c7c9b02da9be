import { barsOf, boxOf, MIN_BAR, MIN_HEIGHT, overlaps } from './edit-shape.ts';
import { rootOf } from './edit-twins.ts';
import type { SignProblemKind } from './repeats.ts';
import { routeFrom } from './route.ts';
import type { Bar, BarId, Marks, System, SystemId } from './types.ts';

export type ProblemKind =
  | 'page-missing'
  | 'outside-page'
  | 'too-small'
  | 'no-bars'
  | 'bars-overlap'
  | 'systems-overlap'
  | 'same-id'
  | 'broken-bar-alone'
  | 'twin-missing'
  | SignProblemKind;

/** Something about the marks that does not fit, and where. */
export interface Problem {
  readonly kind: ProblemKind;
  readonly system?: SystemId;
  readonly bar?: BarId;
}

// Places go through decimal text and sums; less than this is no overlap and not outside.
const SLACK = 1e-9;

function shapeProblems(system: System, pages: number): Problem[] {
  const at = (kind: ProblemKind, bar?: Bar): Problem => ({
    kind,
    system: system.id,
    ...(bar ? { bar: bar.id } : {}),
  });
  const found: Problem[] = [];
  const [x0, top, x1, bottom] = boxOf(system);
  if (system.page < 0 || system.page >= pages) found.push(at('page-missing'));
  if (system.bars.length === 0) return [...found, at('no-bars')];
  if (!(x0 >= -SLACK && top >= -SLACK && x1 <= 1 + SLACK && bottom <= 1 + SLACK))
    found.push(at('outside-page'));
  if (!(bottom - top >= MIN_HEIGHT - SLACK)) found.push(at('too-small'));
  system.bars.forEach((bar, i) => {
    if (!(bar.x1 - bar.x0 >= MIN_BAR - SLACK)) found.push(at('too-small', bar));
    const before = system.bars[i - 1];
    if (before && bar.x0 < before.x1 - SLACK) found.push(at('bars-overlap', bar));
  });
  return found;
}

/**
 * What does not fit in the marks of a document with so many pages, in reading order; empty when all is well.
 * Marks that come from outside (a save, a finder) may hold anything their schema lets through.
 */
export function problemsOf(marks: Marks, pages: number): readonly Problem[] {
  const bars = barsOf(marks);
  const found = marks.systems.flatMap((system) => shapeProblems(system, pages));
  marks.systems.forEach((system, i) => {
    if (marks.systems.slice(0, i).some((other) => overlaps(other, system)))
      found.push({ kind: 'systems-overlap', system: system.id });
  });
  const seen = new Set<string>();
  for (const { id } of [...marks.systems, ...bars]) {
    if (seen.has(id)) found.push({ kind: 'same-id', bar: id });
    seen.add(id);
  }
  bars.forEach((bar, i) => {
    const opensLine = marks.systems.some((system) => system.bars[0] === bar);
    if (bar.continues && (i === 0 || !opensLine)) found.push({ kind: 'broken-bar-alone', bar: bar.id });
    const circle = bar.as !== undefined && rootOf(marks, bar.id) === bar.id;
    if (bar.as !== undefined && (circle || !seen.has(bar.as)))
      found.push({ kind: 'twin-missing', bar: bar.id });
  });
  const signs = routeFrom(marks).problems.map(({ kind, bar }): Problem => ({
    kind,
    ...(bar === null ? {} : { bar }),
  }));
  return [...found, ...signs];
}
