import type { ReadonlySignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import type { Asking } from './opening.ts';

interface PasswordSheetProps {
  readonly asking: ReadonlySignal<Asking | null>;
  /** What the chart is called, once it is asked for. */
  readonly name: () => string;
}

/** Asks for the password of a locked file; says so when the last one was wrong. */
export function PasswordSheet({ asking, name }: PasswordSheetProps) {
  const now = asking.value;
  // A sheet for each time it asks: what was typed before is gone.
  return now && <Sheet key={now} asking={now} name={name()} />;
}

function Sheet({ asking, name }: { asking: Asking; name: string }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const field = useRef<HTMLInputElement>(null);
  const keep = useRef<HTMLInputElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const sent = (event: SubmitEvent) => {
    event.preventDefault();
    asking.answer(field.current!.value, keep.current!.checked);
  };
  return (
    <dialog class="sheet" ref={dialog} onCancel={() => asking.leave()} aria-labelledby="locked">
      <form onSubmit={sent}>
        <h2 id="locked">{t('stand_locked')}</h2>
        <p id="locked-ask" role={asking.wrong ? 'alert' : undefined}>
          {t(asking.wrong ? 'stand_locked_wrong' : 'stand_locked_ask', name)}
        </p>
        <label class="sheet-row">
          <span>{t('stand_locked_field')}</span>
          <input ref={field} type="password" autoComplete="off" autofocus aria-describedby="locked-ask" />
        </label>
        <label class="sheet-row">
          <span>{t('stand_locked_keep')}</span>
          <input ref={keep} type="checkbox" />
        </label>
        <button class="first" data-command="unlock">
          {t('stand_locked_open')}
        </button>{' '}
        <button type="button" class="plain" data-command="leave-locked" onClick={() => asking.leave()}>
          {t('stand_locked_leave')}
        </button>
      </form>
    </dialog>
  );
}
