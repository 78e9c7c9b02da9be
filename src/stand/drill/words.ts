import type { BeatUnit, Plan, Span } from '../../core/chart/types.ts';
import { rungsOf, stepsOf } from '../../core/ladder/index.ts';
import type { Step } from '../../core/ladder/types.ts';
import type { ChartState, CurrentStep } from '../../core/log/state.ts';
import { t, type MessageKey } from '../../host/i18n.ts';
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

const unitKeys: Record<BeatUnit, MessageKey> = {
  sixteenth: 'drill_unit_sixteenth',
  eighth: 'drill_unit_eighth',
  'dotted-eighth': 'drill_unit_dotted_eighth',
  quarter: 'drill_unit_quarter',
  'dotted-quarter': 'drill_unit_dotted_quarter',
  half: 'drill_unit_half',
  'dotted-half': 'drill_unit_dotted_half',
};

export function unitName(unit: BeatUnit): string {
  return t(unitKeys[unit]);
}

/** Where on the ladder: section, step of so many. */
export function whereText(plan: Plan, step: CurrentStep, steps: readonly Step[]): string {
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
  const next = stepsOf(plan)[step.index + 1];
  if (next) return stepName(plan, next);
  const tempi = rungsOf(plan.numbers);
  const above = tempi[tempi.lastIndexOf(step.bpm) + 1];
  return above === undefined ? t('drill_next_goal') : t('drill_next_tempo', above);
}
