import type { Saving } from '../../core/ladder/index.ts';
import { t, type MessageKey } from '../../host/i18n.ts';

/** Minutes as players say them: "38 min", "1 h 53", "2 h". */
export function sayMinutes(minutes: number): string {
  const whole = Math.max(1, Math.round(minutes));
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return t('plan_minutes', rest);
  return rest === 0 ? t('plan_hours', hours) : t('plan_hours_minutes', hours, String(rest).padStart(2, '0'));
}

const SAVINGS: Record<Saving, MessageKey> = {
  'sections-of-four': 'plan_saving_four',
  pairs: 'plan_saving_pairs',
  'three-in-a-row': 'plan_saving_three',
  differing: 'plan_saving_differing',
};

/** What to change, as a list: "sections of four, joined in pairs". */
export function saySavings(what: readonly Saving[]): string {
  return what.map((saving) => t(SAVINGS[saving])).join(t('plan_and'));
}
