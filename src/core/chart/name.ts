import type { Plan, Span } from './types.ts';

/** Bars in a row as numbered on the page. */
export interface SpanPart {
  readonly from: number;
  readonly to: number;
  /**
   * Set when these bars have sounded before on the route, so that their numbers alone do not say which
   * time is meant: the section's name (empty without one) and which of that name it is, from 2.
   */
  readonly again: { readonly section: string; readonly which: number } | null;
}

/** How players say a span, as data; the screen makes words of it. */
export interface SpanName {
  /** One part for bars in a row; more where the span runs over a repeat, an ending or the end. */
  readonly parts: readonly SpanPart[];
  /** Names of the sections when the span is exactly several whole named ones, otherwise null. */
  readonly sections: readonly string[] | null;
}

/** Names a span: numbers as written, "second A" where the same bars come again, or its sections. */
export function spanName(plan: Plan, span: Span): SpanName {
  const parts: SpanPart[] = [];
  const count = plan.bars.length;
  for (let at = span.from; at <= span.to; at++) {
    const place = at % count;
    const { number } = plan.bars[place]!;
    const again = againAt(plan, place);
    const last = parts.at(-1);
    if (last !== undefined && last.to + 1 === number && isSame(last.again, again))
      parts[parts.length - 1] = { ...last, to: number };
    else parts.push({ from: number, to: number, again });
  }
  return { parts, sections: wholeSections(plan, span) };
}

function againAt(plan: Plan, place: number): SpanPart['again'] {
  const bar = plan.bars[place]!;
  // The places of a multi-bar rest share its box and not its numbers.
  const earlier = plan.bars
    .slice(0, place)
    .filter((other) => other.bar === bar.bar && other.number === bar.number).length;
  if (earlier === 0) return null;
  const section = plan.sections[bar.section]!.name;
  if (section === '') return { section, which: earlier + 1 };
  const before = plan.sections.slice(0, bar.section + 1);
  return { section, which: before.filter((other) => other.name === section).length };
}

function isSame(a: SpanPart['again'], b: SpanPart['again']): boolean {
  return a?.section === b?.section && a?.which === b?.which;
}

function wholeSections(plan: Plan, span: Span): string[] | null {
  const inside = plan.sections.filter((section) => section.from >= span.from && section.to <= span.to);
  const isWhole = inside[0]?.from === span.from && inside.at(-1)?.to === span.to;
  const names = inside.map((section) => section.name);
  return isWhole && names.length > 1 && names.every((name) => name !== '') ? names : null;
}

/** The form as letters along the route, "A A B A"; empty when no section has a name. */
export function formText(plan: Plan): string {
  return plan.sections
    .map((section) => section.name)
    .filter((name) => name !== '')
    .join(' ');
}
