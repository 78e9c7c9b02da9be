import type { PageBox, Plan, Span, System } from '../core/chart/types.ts';
import type { ChartState } from '../core/log/state.ts';

/** The one played last first; those never played at the end, by name. Returns a new list. */
export function sortTunes(charts: readonly ChartState[], language: string): ChartState[] {
  return charts.toSorted(
    (a, b) =>
      (b.lastPass?.at ?? '').localeCompare(a.lastPass?.at ?? '') || a.name.localeCompare(b.name, language),
  );
}

const plain = (text: string) =>
  text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase();

/** Tunes whose name holds every word of the search, accents and capitals aside. */
export function findTunes(charts: readonly ChartState[], search: string): ChartState[] {
  const words = plain(search).split(/\s+/).filter(Boolean);
  return charts.filter((chart) => words.every((word) => plain(chart.name).includes(word)));
}

/** The form as letters, in the order they sound; empty where no section is marked. */
export function formOf(plan: Plan): string {
  return plan.sections
    .map((section) => section.name)
    .filter(Boolean)
    .join(' ');
}

/** Written bars on the pages: pickups aside, a bar broken over two lines once. */
export function barCount(systems: readonly System[]): number {
  return systems.flatMap((system) => system.bars).filter((bar) => !bar.continues && bar.pickup === undefined)
    .length;
}

/** Midnights between two moments in the zone of the machine: 0 is today, 1 yesterday. */
export function daysBetween(then: Date, now: Date): number {
  const midnight = (date: Date) => Date.UTC(date.getFullYear(), date.getMonth(), date.getDate());
  return Math.round((midnight(now) - midnight(then)) / 86_400_000);
}

/** Numbers of a span's first and last written bar; a seam may run on from the last bar into the first. */
export function barNumbers(plan: Plan, span: Span): readonly [number, number] {
  const at = (place: number) => plan.bars[place % plan.bars.length]?.number ?? 0;
  return [at(span.from), at(span.to)];
}

/**
 * The section that a span lies in, and which of its name it is (from 1; 0 where the name comes once).
 * Null for a span over several sections, and where there is only one.
 */
export function sectionOf(plan: Plan, span: Span): { readonly name: string; readonly nth: number } | null {
  const index = plan.sections.findIndex((each) => each.from <= span.from && span.to <= each.to);
  const section = plan.sections[index];
  if (!section?.name || plan.sections.length < 2) return null;
  const same = (list: typeof plan.sections) => list.filter((each) => each.name === section.name).length;
  return { name: section.name, nth: same(plan.sections) > 1 ? same(plan.sections.slice(0, index + 1)) : 0 };
}

/** Tempi whose steps are all done. */
export function climbed(rungs: ChartState['rungs']): number {
  return rungs.filter(({ done, steps }) => steps > 0 && done >= steps).length;
}

/**
 * The start of a chart's first line, as wide as a picture of `ratio` (width / height) takes; without marks
 * the head of the first page. Boxes are fractions of the page, `page` its size in any unit.
 */
export function firstLine(
  system: System | undefined,
  page: { readonly width: number; readonly height: number },
  ratio: number,
): PageBox {
  const bar = system?.bars[0];
  if (!system || !bar) {
    const height = (0.9 * page.width) / ratio / page.height;
    return [0.05, 0.03, 0.95, Math.min(1, 0.03 + height)];
  }
  const staff = system.bottom - system.top;
  const top = Math.max(0, system.top - 1.2 * staff);
  const bottom = Math.min(1, system.bottom + 0.9 * staff);
  const left = Math.max(0, bar.x0 - 0.01);
  return [left, top, Math.min(1, left + ((bottom - top) * page.height * ratio) / page.width), bottom];
}
