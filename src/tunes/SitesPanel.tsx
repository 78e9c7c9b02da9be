import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import { FILES, needsGrant, onGrants, requestFiles } from '../host/permissions.ts';
import type { Shelf } from './shelf.ts';
import { readGrants, siteName, type FilesState, type Grants } from './sites.ts';

const filesTold: Record<FilesState, Parameters<typeof t>[0]> = {
  never: 'tunes_files_never',
  off: 'tunes_files_off',
  asked: 'tunes_files_asked',
  granted: 'tunes_files_granted',
};

/** Every site that the player has let Holdfast read; each can be taken back. */
export function SitesPanel({ shelf }: { shelf: Shelf }) {
  const grants = useSignal<Grants | null>(null);
  /** What has just been done: the live region of the page is silent behind a sheet. */
  const done = useSignal('');
  const heading = useRef<HTMLHeadingElement>(null);
  const read = () => readGrants(!needsGrant).then((now) => (grants.value = now));
  useEffect(() => {
    const left = new AbortController();
    onGrants(() => void read(), left.signal);
    void read();
    return () => left.abort();
  }, []);
  const takeBack = async (pattern: string, name: string) => {
    const gone = await shelf.sites.takeBack(pattern);
    done.value = t(gone ? 'tunes_site_gone' : 'tunes_site_stays', name);
    await read();
    // Its button is gone with it.
    heading.current?.focus();
  };
  const allowFiles = () => {
    const asked = requestFiles();
    void shelf.sites.allow(FILES, asked).then((given) => {
      done.value = given ? t('tunes_files_granted') : '';
      return read();
    });
  };
  if (!grants.value) return null;
  const { sites, files } = grants.value;
  return (
    <section class="sites">
      <h3 ref={heading} tabIndex={-1}>
        {t('tunes_sites')}
      </h3>
      <p>{t(sites.length > 0 ? 'tunes_sites_told' : 'tunes_sites_none')}</p>
      <ul>
        {sites.map((pattern) => {
          const name = siteName(pattern) ?? t('tunes_site_every');
          return (
            <li key={pattern} data-site={pattern}>
              <span>{name}</span>
              <button
                aria-label={t('tunes_site_take_back_name', name)}
                onClick={() => void takeBack(pattern, name)}
              >
                {t('tunes_site_take_back')}
              </button>
            </li>
          );
        })}
        <li data-files={files}>
          <span>{t(filesTold[files])}</span>
          {files === 'granted' && (
            <button
              aria-label={t('tunes_site_take_back_name', t('tunes_files_name'))}
              onClick={() => void takeBack(FILES, t('tunes_files_name'))}
            >
              {t('tunes_site_take_back')}
            </button>
          )}
          {files === 'asked' && <button onClick={allowFiles}>{t('tunes_files_allow')}</button>}
        </li>
      </ul>
      <p class="quiet" role="status">
        {done.value}
      </p>
    </section>
  );
}
