import type { Plan, Span } from '../core/chart/types.ts';
import type { ChartState, CurrentStep } from '../core/log/state.ts';
import { plural, t, type MessageKey } from '../host/i18n.ts';
import { barCount, barNumbers, daysBetween, formOf, sectionOf } from './describe.ts';

const ordinals: readonly MessageKey[] = [
  'ordinal_1',
  'ordinal_2',
  'ordinal_3',
  'ordinal_4',
  'ordinal_5',
  'ordinal_6',
];

/** "bars 1–3"; "second A, bars 6–8". */
export function spanText(plan: Plan, span: Span): string {
  const [first, last] = barNumbers(plan, span);
  const bars = span.from === span.to ? t('tunes_span_bar', first) : t('tunes_span_bars', first, last);
  const section = sectionOf(plan, span);
  const ordinal = section === null ? undefined : ordinals[section.nth - 1];
  return section !== null && ordinal ? t('tunes_span_in', t(ordinal, section.name), bars) : bars;
}

/** Where a chart stands, under its tempo: "bar 7 alone", "bars 9–16 joined". */
export function stepText(plan: Plan, step: CurrentStep): string {
  const [first, last] = barNumbers(plan, step);
  if (step.from === step.to) return t('tunes_row_bar_alone', first);
  if (step.kind === 'join') return t('tunes_row_joined', first, last);
  return step.kind === 'seam' ? t('tunes_row_seam', first, last) : t('tunes_span_bars', first, last);
}

/** "yesterday", "3 days ago", in the player's language. */
export function lastPlayed({ lastPass }: ChartState, now: Date, language: string): string {
  if (lastPass === null) return t('tunes_never');
  const days = daysBetween(new Date(lastPass.at), now);
  return new Intl.RelativeTimeFormat(language, { numeric: 'auto' }).format(-days, 'day');
}

/** "A A B · yesterday"; "12 bars · not played yet". */
export function aboutText(state: ChartState, now: Date, language: string): string {
  const form = state.plan === null ? '' : formOf(state.plan.plan);
  const bars = state.marks === null ? 0 : barCount(state.marks.marks.systems);
  const shape = form || (bars > 0 ? plural('tunes_bars', bars) : '');
  const played = lastPlayed(state, now, language);
  return shape ? t('tunes_row_about', shape, played) : played;
}

/** "12 MB", rounded as people say it. */
export function sizeText(bytes: number, language: string): string {
  const [amount, unit] = bytes < 1e6 ? [bytes / 1e3, 'kilobyte'] : [bytes / 1e6, 'megabyte'];
  return new Intl.NumberFormat(language, { style: 'unit', unit, maximumFractionDigits: 0 }).format(amount);
}
