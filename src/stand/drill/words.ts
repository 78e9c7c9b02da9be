import type { Plan, Span } from '../../core/chart/types.ts';
import { ladderOf } from '../../core/log/ladder.ts';
import type { ChartState, CurrentStep } from '../../core/log/state.ts';
import { t } from '../../host/i18n.ts';
import { placeOf } from './light.ts';

/** The numbers of a span's first and last written bar. */
function numbers(plan: Plan, { from, to }: Span): [number, number] {
  return [
    plan.bars[placeOf(plan, from, 0)]?.number ?? 0,
    plan.bars[placeOf(plan, from, to - from)]?.number ?? 0,
  ];
}

/** "7" or "1–3": what stands large in the rail. */
export function spanText(plan: Plan, span: Span): string {
  const [first, last] = numbers(plan, span);
  return span.from === span.to ? String(first) : t('drill_range', first, last);
}

/** The word above it. */
export function spanWord(span: Span & { readonly kind: CurrentStep['kind'] }): string {
  if (span.from === span.to) return t('drill_bar');
  if (span.kind === 'seam') return t('drill_seam');
  return t(span.kind === 'join' ? 'drill_joined' : 'drill_bars');
}

/** A step as the sentence about what comes next names it. */
export function stepName(plan: Plan, step: Span & { readonly kind: CurrentStep['kind'] }): string {
  const text = spanText(plan, step);
  if (step.from === step.to) return t('drill_next_alone', text);
  return t(step.kind === 'seam' ? 'drill_next_seam' : 'drill_next_bars', text);
}

/** Where on the ladder: section, step of so many. */
export function whereText(plan: Plan, step: CurrentStep): string {
  const { steps } = ladderOf(plan);
  if (step.index < 0) return t('drill_where_chosen');
  const section = plan.sections[plan.bars[placeOf(plan, step.from, 0)]?.section ?? 0];
  return plan.sections.length > 1 && section && step.kind !== 'join'
    ? t('drill_where', section.name, step.index + 1, steps.length)
    : t('drill_where_plain', step.index + 1, steps.length);
}

/** What comes after the current step. */
export function nextText(plan: Plan, state: ChartState): string {
  const { step } = state;
  if (!step) return '';
  const { steps, rungs } = ladderOf(plan);
  const next = steps[step.index + 1];
  if (next) return stepName(plan, next);
  const above = rungs[rungs.lastIndexOf(step.bpm) + 1];
  return above === undefined ? t('drill_next_goal') : t('drill_next_tempo', above);
}
