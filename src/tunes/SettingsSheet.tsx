import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { getLanguage, t } from '../host/i18n.ts';
import type { Settings } from '../store/types.ts';
import type { Shelf } from './shelf.ts';
import { sizeText } from './words.ts';

const themes: readonly Settings['theme'][] = ['auto', 'day', 'stage'];
const themeNames = { auto: 'tunes_theme_auto', day: 'tunes_theme_day', stage: 'tunes_theme_stage' } as const;

/** Where everything is kept, told plainly, with the two buttons that carry it elsewhere. */
function Kept({ shelf, close }: { shelf: Shelf; close: () => void }) {
  const size = useSignal<number | null>(null);
  const picker = useRef<HTMLInputElement>(null);
  useEffect(() => {
    navigator.storage.estimate().then(
      ({ usage }) => (size.value = usage ?? null),
      () => undefined,
    );
  }, []);
  const merge = (input: HTMLInputElement) => {
    const files = [...(input.files ?? [])];
    input.value = '';
    close();
    void shelf.takeFiles(files);
  };
  return (
    <section>
      <h3>{t('tunes_storage')}</h3>
      <p>
        {size.value === null
          ? t('tunes_storage_told_plain')
          : t('tunes_storage_told', sizeText(size.value, getLanguage()))}
      </p>
      <div class="buttons">
        <button class="first" onClick={() => void shelf.save({ pdfs: true })}>
          {t('tunes_save')}
        </button>
        <button onClick={() => void shelf.save({ pdfs: false })}>{t('tunes_save_log')}</button>
        <button onClick={() => picker.current?.click()}>{t('tunes_merge')}</button>
      </div>
      <input
        ref={picker}
        class="merge-file"
        type="file"
        accept=".json,.zip,application/json,application/zip"
        hidden
        aria-label={t('tunes_merge')}
        onChange={(event) => merge(event.currentTarget)}
      />
    </section>
  );
}

/** Theme, single letters, and what is kept. */
export function SettingsSheet({ shelf, close }: { shelf: Shelf; close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const { theme, singleLetters } = shelf.settings.value;
  return (
    <dialog class="sheet help-sheet" ref={dialog} onClose={close} aria-label={t('tunes_settings')}>
      <header>
        <h2>{t('tunes_settings')}</h2>
        <form method="dialog">
          <button>{t('help_close')}</button>
        </form>
      </header>
      <fieldset class="choices">
        <legend>{t('tunes_theme')}</legend>
        {themes.map((each) => (
          <label key={each}>
            <input
              type="radio"
              name="theme"
              checked={theme === each}
              onChange={() => void shelf.change({ theme: each })}
            />
            <span>{t(themeNames[each])}</span>
          </label>
        ))}
      </fieldset>
      <label class="key-letters">
        <input
          type="checkbox"
          checked={singleLetters}
          onChange={(event) => void shelf.change({ singleLetters: event.currentTarget.checked })}
        />
        <span>{t('keys_single_letters')}</span>
      </label>
      <Kept shelf={shelf} close={close} />
    </dialog>
  );
}
