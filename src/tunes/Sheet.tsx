import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';

/** A sheet over the page; Escape and its button close it. */
export function Sheet({
  title,
  close,
  children,
}: {
  title: string;
  close: () => void;
  children: ComponentChildren;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog class="sheet help-sheet" ref={dialog} onClose={close} aria-label={title}>
      <header>
        <h2>{title}</h2>
        <form method="dialog">
          <button>{t('help_close')}</button>
        </form>
      </header>
      {children}
    </dialog>
  );
}

/** Asks once more before something that cannot be taken back. */
export function Confirm({
  title,
  text,
  yes,
  done,
  close,
}: {
  title: string;
  text: string;
  yes: string;
  done: () => void;
  close: () => void;
}) {
  return (
    <Sheet title={title} close={close}>
      <p>{text}</p>
      <div class="buttons">
        <button
          class="first"
          data-command="confirm"
          onClick={() => {
            close();
            done();
          }}
        >
          {yes}
        </button>
        <button onClick={close}>{t('tunes_leave')}</button>
      </div>
    </Sheet>
  );
}
