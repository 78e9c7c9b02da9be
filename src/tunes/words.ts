import type { Plan, Span } from '../core/chart/types.ts';
import { barNumbers, type Card, type CardStep } from '../core/log/card.ts';
import { plural, t, type MessageKey } from '../host/i18n.ts';
import { daysBetween, sectionOf } from './describe.ts';
import { newsOf } from './list.ts';

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
export function stepText({ alone, first, last, kind }: CardStep): string {
  if (alone) return t('tunes_row_bar_alone', first);
  if (kind === 'join') return t('tunes_row_joined', first, last);
  return kind === 'seam' ? t('tunes_row_seam', first, last) : t('tunes_span_bars', first, last);
}

/** "yesterday", "3 days ago", in the player's language. */
export function lastPlayed({ playedAt }: Card, now: Date, language: string): string {
  if (playedAt === null) return t('tunes_never');
  const days = daysBetween(new Date(playedAt), now);
  return new Intl.RelativeTimeFormat(language, { numeric: 'auto' }).format(-days, 'day');
}

/** "A A B · yesterday"; "12 bars · not played yet · file not kept". */
export function aboutText(card: Card, now: Date, language: string, missing: boolean): string {
  const shape = card.form || (card.bars > 0 ? plural('tunes_bars', card.bars) : '');
  // What asks for something comes first: the end of a long line is cut off.
  const parts = [missing ? t('tunes_row_missing') : '', shape, lastPlayed(card, now, language)];
  return parts.filter(Boolean).join(t('tunes_row_between'));
}

/** "12 MB", "1.4 GB", rounded as people say it. */
export function sizeText(bytes: number, language: string): string {
  const [amount, unit, digits] =
    bytes < 1e6
      ? [bytes / 1e3, 'kilobyte', 0]
      : bytes < 1e9
        ? [bytes / 1e6, 'megabyte', 0]
        : [bytes / 1e9, 'gigabyte', 1];
  return new Intl.NumberFormat(language, { style: 'unit', unit, maximumFractionDigits: digits }).format(
    amount,
  );
}

/** What has come with saves, from the cards before and after: tunes, passes, or what else is new in the log. */
export function mergedText(before: readonly Card[], after: readonly Card[], events: number): string {
  const { tunes, passes } = newsOf(before, after);
  if (events === 0) return t('tunes_merged_nothing');
  const news = [
    ...(tunes > 0 ? [plural('tunes_merged_tunes', tunes)] : []),
    ...(passes > 0 ? [plural('tunes_merged_passes', passes)] : []),
  ];
  return t('tunes_merged', news.length > 0 ? news.join(', ') : t('tunes_merged_changes'));
}
