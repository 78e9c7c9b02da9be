import { useEffect, useRef } from 'preact/hooks';
import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import type { Shelf } from './shelf.ts';

/** The row while its tune gets a new name. */
export function RenameForm({ chart, shelf, done }: { chart: ChartState; shelf: Shelf; done: () => void }) {
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.select(), []);
  const sent = (event: SubmitEvent) => {
    event.preventDefault();
    const name = field.current?.value.trim() ?? '';
    if (name && name !== chart.name) void shelf.rename(chart.chart, name).then(done);
    else done();
  };
  return (
    <form
      class="rename-form"
      onSubmit={sent}
      onKeyDown={(event) => {
        if (event.key === 'Escape') done();
      }}
    >
      <input
        ref={field}
        aria-label={t('tunes_rename_field')}
        defaultValue={chart.name}
        maxLength={200}
        required
      />
      <button class="first">{t('tunes_rename_ok')}</button>
      <button type="button" onClick={done}>
        {t('tunes_rename_leave')}
      </button>
    </form>
  );
}
