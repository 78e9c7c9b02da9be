import { useEffect, useRef } from 'preact/hooks';
import type { TuneInFile } from '../../core/find/tunes.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Book } from './book.ts';

/** How far the file has been read, in one quiet line. */
export function BookProgress({ book }: { readonly book: Book }) {
  const now = book.progress.value;
  if (now === null || now.pages < 2) return null;
  return (
    <p class="stand-book" data-done={now.done}>
      {t('stand_book_progress', now.done, now.pages)}{' '}
      <button class="plain" data-command="stop-book" onClick={() => book.stop()}>
        {t('stand_book_stop')}
      </button>
    </p>
  );
}

interface TunesSheetProps {
  readonly book: Book;
  /** The tune, or null for the one in view. */
  readonly choose: (tune: TuneInFile | null) => void;
  readonly close: () => void;
}

/** The tunes that were found in the file: title, page and bars of each. */
export function TunesSheet({ book, choose, close }: TunesSheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog class="sheet stand-tunes" ref={dialog} onClose={close} aria-label={t('stand_book_title')}>
      <header>
        <h2>{t('stand_book_title')}</h2>
        <form method="dialog">
          <button>{t('stand_book_close')}</button>
        </form>
      </header>
      <BookProgress book={book} />
      <ol>
        {book.tunes.value.map((tune) => (
          <li key={`${tune.from.page} ${tune.from.line}`}>
            <button class="plain" data-tune={tune.from.page} onClick={() => choose(tune)}>
              {tune.title ?? t('stand_book_untitled', tune.from.page + 1)}
            </button>{' '}
            <span>{plural('stand_book_bars', tune.bars, tune.from.page + 1)}</span>
          </li>
        ))}
      </ol>
      <footer>
        <button data-command="tune-in-view" onClick={() => choose(null)}>
          {t('stand_book_here')}
        </button>
      </footer>
    </dialog>
  );
}
