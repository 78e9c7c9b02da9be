import { boxOf } from '../../chart/edit-shape.ts';
import type { Bar, BarId, Marks, PageBox, System } from '../../chart/types.ts';
import { TRAITS } from '../looks/traits.ts';
import type { FoundPage, SeenLine } from '../types.ts';

/** The uprights that were seen at one system. */
export interface SeenSystem {
  readonly page: number;
  readonly box: PageBox;
  /** Distance of two staff lines, a fraction of the page's width. */
  readonly space: number;
  /** One for each boundary, and every upright that was left out. */
  readonly lines: readonly SeenLine[];
}

/** A line of marks lies this close to the upright that it stands for, in spaces. */
const NEAR = 0.5;
const THICK = TRAITS.findIndex(({ name }) => name === 'thick');

/** What was seen on pages, by system. */
export function seenSystems(pages: readonly FoundPage[]): SeenSystem[] {
  return pages.flatMap(({ page, width, height, systems }) =>
    systems.flatMap(({ box, staves, seen }) => {
      const lines = staves[0]?.lines ?? [];
      if (seen === undefined || lines.length < 2) return [];
      const space = (((lines.at(-1)! - lines[0]!) / (lines.length - 1)) * height) / width;
      return [{ page, box, space, lines: oneEach(seen) }];
    }),
  );
}

/** A boundary of several strokes is told by its thickest. */
function oneEach(seen: readonly SeenLine[]): SeenLine[] {
  const taken = new Map<number, SeenLine>();
  for (const line of seen) {
    const other = taken.get(line.x);
    if (line.kind !== undefined && (other === undefined || line.look[THICK]! > other.look[THICK]!))
      taken.set(line.x, line);
  }
  return seen.filter((line) => line.kind === undefined || taken.get(line.x) === line);
}

/** A line between or beside bars of the marks, with the upright that stands there. */
export interface Place {
  readonly system: System;
  readonly seen: SeenSystem;
  readonly line: SeenLine;
  /** The bars at its sides; null past the system's end. */
  readonly left: Bar | null;
  readonly right: Bar | null;
}

/** An upright inside a bar of the marks that no line stands at. */
export interface Inside {
  readonly system: System;
  readonly seen: SeenSystem;
  readonly line: SeenLine;
  readonly bar: Bar;
}

export const seenAt = (system: System, seen: readonly SeenSystem[]): SeenSystem | null =>
  seen.find(({ page, box }) => page === system.page && isSameLine(box, boxOf(system))) ?? null;

/** Two boxes are of the same line of music: most of the lower one's height, and some of its width. */
function isSameLine(a: PageBox, b: PageBox): boolean {
  const height = Math.min(a[3], b[3]) - Math.max(a[1], b[1]);
  return height > 0.6 * Math.min(a[3] - a[1], b[3] - b[1]) && a[0] < b[2] && b[0] < a[2];
}

/** The upright nearest to x; null when none stands there. */
export function lineAt(seen: SeenSystem, x: number, isTaken: boolean): SeenLine | null {
  let best: SeenLine | null = null;
  for (const line of seen.lines)
    if (
      (line.kind !== undefined) === isTaken &&
      Math.abs(line.x - x) <= NEAR * seen.space &&
      (best === null || Math.abs(line.x - x) < Math.abs(best.x - x))
    )
      best = line;
  return best;
}

/** Every line of the marks at which a bar line was found. */
export function placesOf(marks: Marks, seen: readonly SeenSystem[]): Place[] {
  return marks.systems.flatMap((system) => {
    const here = seenAt(system, seen);
    if (here === null) return [];
    const { bars } = system;
    return Array.from({ length: bars.length + 1 }, (_, i) => i).flatMap((i): Place[] => {
      const [left, right] = [bars[i - 1] ?? null, bars[i] ?? null];
      const line = lineAt(here, left?.x1 ?? right!.x0, true);
      return line === null ? [] : [{ system, seen: here, line, left, right }];
    });
  });
}

/** Every upright that no line of the marks stands at, inside its bar. */
export function insidesOf(marks: Marks, seen: readonly SeenSystem[]): Inside[] {
  return marks.systems.flatMap((system) => {
    const here = seenAt(system, seen);
    if (here === null) return [];
    const near = NEAR * here.space;
    return here.lines.flatMap((line): Inside[] => {
      const bar = system.bars.find(({ x0, x1 }) => line.x > x0 + near && line.x < x1 - near);
      return line.kind === undefined && bar ? [{ system, seen: here, line, bar }] : [];
    });
  });
}

/** Only the finder has seen it. */
export const isUntouched = (bar: Bar | null): boolean => bar !== null && bar.found !== undefined;

export const idsOf = (marks: Marks): ReadonlySet<BarId> =>
  new Set(marks.systems.flatMap(({ bars }) => bars.map(({ id }) => id)));
