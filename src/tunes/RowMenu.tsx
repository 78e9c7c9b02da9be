import { useEffect, useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import { archive, remove } from './deeds.ts';
import { moved, takeOut } from './sets.ts';
import type { RowProps } from './TuneRow.tsx';

/** What else can be done with a tune. Escape and a press elsewhere close it. */
export function RowMenu({ card, shelf, view }: RowProps) {
  const menu = useRef<HTMLDetailsElement>(null);
  const close = () => {
    if (menu.current) menu.current.open = false;
  };
  useEffect(() => {
    const left = new AbortController();
    const elsewhere = (event: Event) => {
      if (event.target instanceof Node && !menu.current?.contains(event.target)) close();
    };
    window.addEventListener('pointerdown', elsewhere, { signal: left.signal });
    window.addEventListener('focusin', elsewhere, { signal: left.signal });
    return () => left.abort();
  }, []);
  const escaped = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || !menu.current?.open) return;
    close();
    menu.current.querySelector('summary')?.focus();
  };
  const doing = (work: () => void) => () => {
    close();
    work();
  };
  const place = view.place.value;
  const document = card.document === null ? undefined : shelf.documents.value?.get(card.document);
  return (
    <details class="row-menu" ref={menu} onKeyDown={escaped}>
      <summary aria-label={t('tunes_more', card.name)}>
        <span aria-hidden="true">⋯</span>
      </summary>
      <div>
        <button class="details" onClick={doing(() => (view.over.value = { kind: 'details', card }))}>
          {t('tunes_details')}
        </button>
        {place.kind === 'set' && (
          <>
            <button
              class="earlier"
              onClick={doing(
                () =>
                  void shelf.make(t('tunes_moved', card.name), moved(view.listed.value, card, place.set, -1)),
              )}
            >
              {t('tunes_earlier')}
            </button>
            <button
              class="later"
              onClick={doing(
                () =>
                  void shelf.make(t('tunes_moved', card.name), moved(view.listed.value, card, place.set, 1)),
              )}
            >
              {t('tunes_later')}
            </button>
            <button
              class="take-out"
              onClick={doing(
                () => void shelf.make(t('tunes_taken_out', card.name, place.set), takeOut([card], place.set)),
              )}
            >
              {t('tunes_take_out')}
            </button>
          </>
        )}
        <button class="archive" onClick={doing(() => void archive(shelf, [card], !card.archived))}>
          {t(card.archived ? 'tunes_unarchive' : 'tunes_archive')}
        </button>
        {document?.kept === true && document.hash !== shelf.sample.value && (
          <button class="drop-copy" onClick={doing(() => (view.over.value = { kind: 'drop', card }))}>
            {t('tunes_drop_copy')}
          </button>
        )}
        <button class="remove" onClick={doing(() => void remove(shelf, [card]))}>
          {t('tunes_remove')}
        </button>
      </div>
    </details>
  );
}
