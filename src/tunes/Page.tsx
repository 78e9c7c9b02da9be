import { useSignal } from '@preact/signals';
import { getLanguage, plural, t } from '../host/i18n.ts';
import { HelpSheet } from '../ui/HelpSheet.tsx';
import { findTunes, sortTunes } from './describe.ts';
import { DropZone } from './DropZone.tsx';
import { FirstRun } from './FirstRun.tsx';
import { Lines } from './Lines.tsx';
import { OpenChart } from './OpenChart.tsx';
import { SettingsSheet } from './SettingsSheet.tsx';
import type { Shelf } from './shelf.ts';
import { Today } from './Today.tsx';
import { TuneRow } from './TuneRow.tsx';

/** All of the player's charts, and what to play now. */
export function Page({ shelf }: { shelf: Shelf }) {
  const search = useSignal('');
  const sheet = useSignal<'help' | 'settings' | null>(null);
  const close = () => (sheet.value = null);
  const charts = sortTunes(shelf.charts.value ?? [], getLanguage());
  const found = findTunes(charts, search.value);
  const last = charts.find((chart) => chart.step !== null && chart.lastPass !== null);
  const change = (part: Parameters<Shelf['change']>[0]) => void shelf.change(part);
  return (
    <DropZone shelf={shelf}>
      <header class="top">
        <h1>{t('tunes_title')}</h1>
        {charts.length > 0 && (
          <input
            type="search"
            aria-label={t('tunes_search_name')}
            placeholder={plural('tunes_search', charts.length)}
            value={search.value}
            onInput={(event) => (search.value = event.currentTarget.value)}
          />
        )}
        <OpenChart shelf={shelf} />
      </header>
      <main>
        <Lines shelf={shelf} />
        {charts.length === 0 && <FirstRun shelf={shelf} />}
        {last && <Today chart={last} />}
        {charts.length > 0 && (
          <ul class="tunes" aria-label={t('tunes_list_name')}>
            {found.map((chart) => (
              <TuneRow key={chart.chart} chart={chart} shelf={shelf} />
            ))}
          </ul>
        )}
        {charts.length > 0 && found.length === 0 && <p class="quiet">{t('tunes_none_found')}</p>}
      </main>
      <footer class="foot">
        <button class="plain" onClick={() => void shelf.save({ pdfs: true })}>
          {t('tunes_save')}
        </button>
        <button class="plain" onClick={() => (sheet.value = 'settings')}>
          {t('tunes_settings')}
        </button>
        <button class="plain" onClick={() => (sheet.value = 'help')}>
          {t('tunes_help')}
        </button>
      </footer>
      {sheet.value === 'help' && (
        <HelpSheet commands={[]} choices={shelf.settings.value} change={change} close={close} />
      )}
      {sheet.value === 'settings' && <SettingsSheet shelf={shelf} close={close} />}
    </DropZone>
  );
}
