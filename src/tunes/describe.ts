import type { PageBox, Plan, Span } from '../core/chart/types.ts';
import type { Card, FirstLine } from '../core/log/card.ts';

/** Midnights between two moments in the zone of the machine: 0 is today, 1 yesterday. */
export function daysBetween(then: Date, now: Date): number {
  const midnight = (date: Date) => Date.UTC(date.getFullYear(), date.getMonth(), date.getDate());
  return Math.round((midnight(now) - midnight(then)) / 86_400_000);
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
export function climbed(rungs: Card['rungs']): number {
  return rungs.filter(({ done, steps }) => steps > 0 && done >= steps).length;
}

/**
 * The start of a chart's first line, as wide as a picture of `ratio` (width / height) takes; without marks
 * the head of the first page. Boxes are fractions of the page, `page` its size in any unit.
 */
export function firstLine(
  line: FirstLine | null,
  page: { readonly width: number; readonly height: number },
  ratio: number,
): PageBox {
  if (!line) {
    const height = (0.9 * page.width) / ratio / page.height;
    return [0.05, 0.03, 0.95, Math.min(1, 0.03 + height)];
  }
  const staff = line.bottom - line.top;
  const top = Math.max(0, line.top - 1.2 * staff);
  const bottom = Math.min(1, line.bottom + 0.9 * staff);
  const left = Math.max(0, line.left - 0.01);
  return [left, top, Math.min(1, left + ((bottom - top) * page.height * ratio) / page.width), bottom];
}
