import type { Bar } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';

/** What is said of a bar, drawn on it as on a chart: section, ending, repeat signs, a tie. All by our own pen. */
export function Signs({ bar }: { readonly bar: Bar }) {
  return (
    <>
      {(bar.section !== undefined || bar.meter) && (
        <span class="marks-badges">
          {bar.section !== undefined && <b class="marks-badge">{bar.section}</b>}
          {bar.meter && <span class="marks-meter">{t('marks_meter', bar.meter.beats, bar.meter.value)}</span>}
        </span>
      )}
      {bar.ending && <span class="marks-ending">{bar.ending.join(', ')}</span>}
      {bar.repeatStart && <Repeat side="start" />}
      {bar.repeatEnd !== undefined && <Repeat side="end" times={bar.repeatEnd} />}
      {bar.tied && (
        <svg class="marks-tie" viewBox="0 0 30 8">
          <path d="M1 1Q15 10 29 1" />
        </svg>
      )}
    </>
  );
}

function Repeat({ side, times = 2 }: { readonly side: 'start' | 'end'; readonly times?: number }) {
  return (
    <span class={`marks-repeat ${side}`}>
      <svg viewBox="0 0 14 40" preserveAspectRatio="none">
        <path d="M2 0V40" stroke-width="3.4" />
        <path d="M6.5 0V40" stroke-width="1.2" />
      </svg>
      <i />
      <i />
      {times > 2 && <b>{t('marks_times', times)}</b>}
    </span>
  );
}
