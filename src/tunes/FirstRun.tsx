import { t } from '../host/i18n.ts';
import type { Shelf } from './shelf.ts';

/** Nothing on the shelf yet: a tune to begin with, one press away. */
export function FirstRun({ shelf }: { shelf: Shelf }) {
  return (
    <>
      <section class="card first-run">
        <div>
          <h2>{t('tunes_first_head')}</h2>
          <p>{t('tunes_first_body')}</p>
        </div>
        <button class="first begin" data-command="begin-sample" onClick={() => void shelf.takeSample()}>
          {t('tunes_first_begin')}
        </button>
      </section>
      <p class="quiet">{t('tunes_first_own')}</p>
    </>
  );
}
