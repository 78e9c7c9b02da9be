import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { getLanguage, plural, t } from '../host/i18n.ts';
import { onTurn } from '../host/turn.ts';
import { createKeys } from '../ui/keys.ts';
import { commands } from './commands.ts';
import { daysBetween } from './describe.ts';
import { DropZone } from './DropZone.tsx';
import { FirstRun } from './FirstRun.tsx';
import { Asks, Lines } from './Lines.tsx';
import { List } from './List.tsx';
import { Chosen, ListBar } from './ListBar.tsx';
import { lookedAt, rememberLooking } from './looking.ts';
import { OpenChart } from './OpenChart.tsx';
import { Overs } from './Overs.tsx';
import type { Shelf } from './shelf.ts';
import { Today } from './Today.tsx';
import { createView, type View } from './view.ts';

/** Days after which a save is old. */
const SAVE_IS_OLD = 30;

/** How old the last save is, said only when it is old and there is something to lose. */
function SavedLine({ shelf }: { shelf: Shelf }) {
  const saved = shelf.savedAt.value;
  const played = (shelf.cards.value ?? []).filter(({ playedAt }) => playedAt !== null);
  if (saved === undefined || played.length === 0) return null;
  // Never saved: what is at stake is as old as the first chart that came in.
  const since = saved ?? played.flatMap(({ addedAt }) => addedAt ?? []).sort()[0];
  if (since === undefined) return null;
  const days = daysBetween(new Date(since), new Date());
  if (days <= SAVE_IS_OLD) return null;
  const ago = new Intl.RelativeTimeFormat(getLanguage()).format(-days, 'day');
  return <p class="quiet saved-line">{saved === null ? t('tunes_never_saved') : t('tunes_saved_at', ago)}</p>;
}

/** Why the list is empty, and what to do. */
function Empty({ shelf, view }: { shelf: Shelf; view: View }) {
  const search = view.search.value.trim();
  if (view.found.value.length > 0) return null;
  if (view.listed.value.length > 0)
    return (
      <div class="empty">
        <p class="quiet">{t('tunes_none_found', search)}</p>
        <button onClick={() => (view.search.value = '')}>{t('tunes_show_all')}</button>
      </div>
    );
  if (view.place.value.kind === 'archive') return <p class="empty quiet">{t('tunes_archive_empty')}</p>;
  return shelf.cards.value?.some(({ removed }) => !removed) ? (
    <p class="empty quiet">{t('tunes_all_archived')}</p>
  ) : null;
}

/** All of the player's charts, and what to play now. */
export function Page({ shelf }: { shelf: Shelf }) {
  const before = useMemo(lookedAt, []);
  const view = useMemo(() => createView(shelf, before), [shelf]);
  const field = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => {
    if (before) scrollTo({ top: before.top, behavior: 'instant' });
    rememberLooking(() => ({ place: view.place.peek(), search: view.search.peek() }));
  }, [view]);
  useEffect(() => {
    createKeys({
      commands,
      handlers: () => ({
        'shelf-undo': () => void shelf.undo(),
        'shelf-search': () => field.current?.focus(),
      }),
      settings: () => shelf.settings.value,
      signal: onTurn,
    });
  }, [shelf]);
  const any = shelf.cards.value?.some(({ removed }) => !removed) ?? false;
  /** Removed tunes are in a save too. */
  const hasLog = (shelf.cards.value ?? []).length > 0;
  const count = view.listed.value.length;
  const { today } = shelf;
  // What is found stands where it is seen.
  const searching = view.search.value.trim() !== '';
  return (
    <DropZone shelf={shelf}>
      <header class="top">
        <h1>{t('tunes_title')}</h1>
        {any && (
          <input
            ref={field}
            type="search"
            aria-label={t('tunes_search_name')}
            placeholder={plural('tunes_search', count)}
            value={view.search.value}
            onInput={(event) => (view.search.value = event.currentTarget.value)}
          />
        )}
        <OpenChart shelf={shelf} />
      </header>
      <main>
        <Lines shelf={shelf} />
        {!any && <FirstRun shelf={shelf} />}
        {!searching && today.value && <Today chart={today.value} shelf={shelf} view={view} />}
        {!searching && <Asks shelf={shelf} />}
        {any && (
          <>
            <ListBar shelf={shelf} view={view} />
            {view.chosen.value && <Chosen shelf={shelf} view={view} />}
            <p class="unseen" role="status">
              {searching && plural('tunes_found', view.found.value.length)}
            </p>
            <List shelf={shelf} view={view} />
            <Empty shelf={shelf} view={view} />
          </>
        )}
      </main>
      <footer class="foot">
        <SavedLine shelf={shelf} />
        {hasLog && (
          <button class="plain" data-command="save" onClick={() => void shelf.save({ pdfs: true })}>
            {t('tunes_save')}
          </button>
        )}
        <button
          class="plain"
          data-command="settings"
          onClick={() => (view.over.value = { kind: 'settings' })}
        >
          {t('tunes_settings')}
        </button>
        <button class="plain" data-command="help" onClick={() => (view.over.value = { kind: 'help' })}>
          {t('tunes_help')}
        </button>
      </footer>
      <Overs shelf={shelf} view={view} />
    </DropZone>
  );
}
