import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import { opened } from './opened.ts';
import type { Shelf } from './shelf.ts';
import type { View } from './view.ts';
import { spanText } from './words.ts';

/** How the streak stands, or that a cold pass comes first. */
function standing({ cold, knots, step }: ChartState): string {
  if (cold && knots.length > 0) return t('tunes_today_cold');
  const tight = knots.filter((knot) => knot.tie !== 'gap').length;
  const places = step?.streak ?? 0;
  return tight > 0 ? t('tunes_today_go', tight, places) : t('tunes_today_fresh', tight, places);
}

/** What to play now: the tune practised last, where it stands, one button. */
export function Today({ chart, shelf, view }: { chart: ChartState; shelf: Shelf; view: View }) {
  const { plan, step } = chart;
  if (!plan || !step) return null;
  const card = shelf.cards.value?.find((each) => each.chart === chart.chart);
  return (
    <section class="card today">
      <div>
        <p class="quiet">{t('tunes_today')}</p>
        <h2>{t('tunes_today_plan', chart.name, spanText(plan.plan, step), step.bpm)}</h2>
        <p class="quiet">{standing(chart)}</p>
      </div>
      <a
        class="button first begin"
        href={pageUrl('stand', { chart: chart.chart, begin: '1' })}
        onClick={(event) => card && opened(event, card, true, shelf, view)}
      >
        {t('tunes_begin')}
      </a>
    </section>
  );
}
