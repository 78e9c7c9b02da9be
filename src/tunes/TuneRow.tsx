import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { ChartState } from '../core/log/state.ts';
import { getLanguage, t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import { NoteSign } from '../ui/NoteSign.tsx';
import { unitName } from '../ui/units.ts';
import { LyingLadder } from './LyingLadder.tsx';
import { Picture } from './Picture.tsx';
import { RenameForm } from './RenameForm.tsx';
import type { Shelf } from './shelf.ts';
import { aboutText, stepText } from './words.ts';

interface RowProps {
  readonly chart: ChartState;
  readonly shelf: Shelf;
}

/** Where the chart stands: its tempo and step, or in words what is still to be done. */
function Standing({ chart }: { chart: ChartState }) {
  const { plan, step, marks, finished, lastPass } = chart;
  if (finished) return <strong>{t('tunes_row_finished')}</strong>;
  if (!plan || !step)
    return <span class="quiet">{t(marks ? 'tunes_row_marked' : 'tunes_row_unmarked')}</span>;
  const unit = plan.plan.bars[0]?.unit ?? 'quarter';
  return (
    <>
      <strong class="tempo">
        <NoteSign unit={unit} name={unitName(unit)} />
        {` = ${step.bpm}`}
      </strong>
      <span class="quiet">{lastPass ? stepText(plan.plan, step) : t('tunes_row_marked')}</span>
    </>
  );
}

function RowMenu({ chart, shelf, rename }: RowProps & { rename: () => void }) {
  const menu = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    const left = new AbortController();
    const elsewhere = (event: Event) => {
      if (event.target instanceof Node && !menu.current?.contains(event.target) && menu.current)
        menu.current.open = false;
    };
    window.addEventListener('pointerdown', elsewhere, { signal: left.signal });
    window.addEventListener('focusin', elsewhere, { signal: left.signal });
    return () => left.abort();
  }, []);
  return (
    <details class="row-menu" ref={menu}>
      <summary aria-label={t('tunes_more', chart.name)}>
        <span aria-hidden="true">⋯</span>
      </summary>
      <div>
        <button class="rename" onClick={rename}>
          {t('tunes_rename')}
        </button>
        <button class="remove" onClick={() => void shelf.remove(chart)}>
          {t('tunes_remove')}
        </button>
      </div>
    </details>
  );
}

/** One chart: press it and it stands on the stand. */
export function TuneRow({ chart, shelf }: RowProps) {
  const naming = useSignal(false);
  if (naming.value)
    return (
      <li class="tune">
        <RenameForm chart={chart} shelf={shelf} done={() => (naming.value = false)} />
      </li>
    );
  return (
    <li class="tune">
      <a href={pageUrl('stand', { chart: chart.chart })}>
        <Picture chart={chart} store={shelf.store} />
        <span class="named">
          <strong>{chart.name}</strong>
          <span class="quiet">{aboutText(chart, new Date(), getLanguage())}</span>
        </span>
        {chart.rungs.length > 0 ? <LyingLadder rungs={chart.rungs} /> : <span />}
        <span class="standing">
          <Standing chart={chart} />
        </span>
      </a>
      <RowMenu chart={chart} shelf={shelf} rename={() => (naming.value = true)} />
    </li>
  );
}
