import { t } from '../host/i18n.ts';
import type { Settings } from '../store/types.ts';
import type { Shelf } from './shelf.ts';
import { Sheet } from './Sheet.tsx';
import { SitesPanel } from './SitesPanel.tsx';
import { Storage } from './Storage.tsx';

const themes: readonly Settings['theme'][] = ['auto', 'day', 'stage'];
const themeNames = { auto: 'tunes_theme_auto', day: 'tunes_theme_day', stage: 'tunes_theme_stage' } as const;

/** Theme, single letters, what is kept, and which sites may be read. */
export function SettingsSheet({ shelf, close }: { shelf: Shelf; close: () => void }) {
  const { theme, singleLetters } = shelf.settings.value;
  return (
    <Sheet title={t('tunes_settings')} close={close}>
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
      <Storage shelf={shelf} close={close} />
      <SitesPanel shelf={shelf} />
    </Sheet>
  );
}
