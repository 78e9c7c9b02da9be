import type { Plan, Section, Span } from '../chart/types.ts';
import { joinsOf } from './joins.ts';
import { differingPlaces } from './differing.ts';
import { seamsOf } from './seams.ts';
import type { Step } from './types.ts';

/** The music of a span, bar by bar and in order: equal for spans that are twins of each other. */
export function spanKey(plan: Pick<Plan, 'bars'>, span: Span): string {
  const bars = plan.bars.length;
  const twins: number[] = [];
  for (let place = span.from; place <= span.to; place++) twins.push(plan.bars[place % bars]!.twin);
  return twins.join(',');
}

/** The sections that are chained: the plan's own, cut into pieces where they are longer than wanted. */
export function chainedSections(plan: Plan): Section[] {
  const longest = plan.numbers.sectionLength ?? Infinity;
  return plan.sections.flatMap((section) => {
    const pieces: Section[] = [];
    for (let from = section.from; from <= section.to; from += longest)
      pieces.push({ name: section.name, from, to: Math.min(section.to, from + longest - 1) });
    return pieces;
  });
}

/**
 * All steps of one rung in order: every section bar by bar and chained, then the seams, then the joins
 * of sections. Left out is a step whose music another step before it has, unless the plan keeps them all.
 */
export function stepsOf(plan: Plan): Step[] {
  if (plan.bars.length === 0) return [];
  const { numbers } = plan;
  const sections = chainedSections(plan);
  const wanted = [
    ...sections.flatMap((section, index) => sectionSteps(plan, section, sections.slice(0, index))),
    ...(numbers.seams ? seamsOf(plan, sections).map((span) => step(plan, 'seam', span)) : []),
    ...joinsOf(sections, numbers.joining).map((span) => step(plan, 'join', span)),
  ];
  return numbers.twins ? withoutTwins(plan, wanted) : wanted;
}

function step(plan: Plan, kind: Step['kind'], { from, to }: Span): Step {
  const { streak, joinStreak } = plan.numbers;
  return { from, to, kind, streak: kind === 'join' ? joinStreak : streak };
}

function withoutTwins(plan: Plan, steps: readonly Step[]): Step[] {
  const listed = new Set<string>();
  return steps.filter((candidate) => {
    const key = spanKey(plan, candidate);
    if (listed.has(key)) return false;
    listed.add(key);
    return true;
  });
}

/** b1; b2; b1–b2; b3; b1–b3; …; bn; b1–bn, or only what is new in a section that is almost an earlier one. */
function sectionSteps(plan: Plan, section: Section, before: readonly Section[]): Step[] {
  const differing = differingPlaces(plan, section, before);
  return differing === null ? chained(plan, section) : differingSteps(plan, section, differing);
}

function chained(plan: Plan, section: Section): Step[] {
  const steps: Step[] = [];
  for (let place = section.from; place <= section.to; place++) {
    if (hasStepAlone(plan, place)) steps.push(step(plan, 'alone', { from: place, to: place }));
    if (hasChain(plan, section, place)) steps.push(step(plan, 'chain', { from: section.from, to: place }));
  }
  return steps;
}

function differingSteps(plan: Plan, section: Section, differing: readonly number[]): Step[] {
  const steps = differing
    .filter((place) => hasStepAlone(plan, place))
    .map((place) => step(plan, 'alone', { from: place, to: place }));
  const first = differing.find((place) => !isSkipped(plan, place));
  if (first === undefined) return steps;
  const from = Math.max(section.from, first - 1);
  return from === section.to ? steps : [...steps, step(plan, 'differing', { from, to: section.to })];
}

function isSkipped(plan: Plan, place: number): boolean {
  return plan.numbers.skipped.includes(plan.bars[place]!.bar);
}

function hasStepAlone(plan: Plan, place: number): boolean {
  return !isSkipped(plan, place) && !(plan.numbers.silence && plan.bars[place]!.silent);
}

/** A skipped bar has no chain of its own; at the end of a section the whole section is chained all the same. */
function hasChain(plan: Plan, section: Section, place: number): boolean {
  if (place === section.from || isInsideRest(plan, section, place)) return false;
  if (isOneRest(plan, section.from, place)) return false;
  if (!isSkipped(plan, place)) return true;
  return place === section.to && !allSkipped(plan, section);
}

/** The rest goes on: a multi-bar rest is one bar of the page, and there is nothing to chain bar by bar. */
function isInsideRest(plan: Plan, section: Section, place: number): boolean {
  const [bar, next] = [plan.bars[place]!, plan.bars[place + 1]];
  return place < section.to && bar.silent && next?.bar === bar.bar && next.number === bar.number + 1;
}

/** Nothing but a multi-bar rest: there is nothing to play. */
function isOneRest({ bars }: Plan, from: number, to: number): boolean {
  return bars[from]!.silent && bars.slice(from, to + 1).every(({ bar }) => bar === bars[from]!.bar);
}

function allSkipped(plan: Plan, section: Section): boolean {
  for (let place = section.from; place <= section.to; place++) if (!isSkipped(plan, place)) return false;
  return true;
}
