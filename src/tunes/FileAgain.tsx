import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Card } from '../core/log/card.ts';
import { t } from '../host/i18n.ts';
import { Sheet } from './Sheet.tsx';
import type { Shelf } from './shelf.ts';

interface FileAgainProps {
  readonly card: Card;
  /** The drill begins as soon as the file is there. */
  readonly begin: boolean;
  readonly shelf: Shelf;
  readonly close: () => void;
}

/** Asks for the file of a chart whose copy is not kept: the same bytes open it, others are told plainly. */
export function FileAgain({ card, begin, shelf, close }: FileAgainProps) {
  const picker = useRef<HTMLInputElement>(null);
  const other = useSignal<File | null>(null);
  const names = shelf.documents.value?.get(card.document ?? '')?.names.join(', ') ?? '';
  const picked = async (input: HTMLInputElement) => {
    const [file] = input.files ?? [];
    input.value = '';
    if (!file) return;
    other.value = (await shelf.takeAgain(card, file, begin)) ? null : file;
    if (other.value === null) close();
  };
  const file = other.value;
  return (
    <Sheet title={card.name} close={close}>
      {file ? (
        <p class="warning" role="alert">
          {t('tunes_again_other', file.name)}
        </p>
      ) : (
        <p>{t('tunes_again')}</p>
      )}
      {names && <p class="quiet">{t('tunes_again_names', names)}</p>}
      <div class="buttons">
        <button class="first" autoFocus onClick={() => picker.current?.click()}>
          {t(file ? 'tunes_again_another' : 'tunes_again_choose')}
        </button>
        {file && (
          <button
            class="as-own"
            onClick={() => {
              close();
              void shelf.takeFiles([file]);
            }}
          >
            {t('tunes_again_own')}
          </button>
        )}
      </div>
      <input
        ref={picker}
        class="file-again"
        type="file"
        accept="application/pdf,.pdf"
        hidden
        aria-label={t('tunes_again_choose')}
        onChange={(event) => void picked(event.currentTarget)}
      />
    </Sheet>
  );
}
