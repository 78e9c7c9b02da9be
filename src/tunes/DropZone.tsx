import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import type { Shelf } from './shelf.ts';

const holdsFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;

/** The whole window takes files: a PDF is opened, a save is merged. */
export function DropZone({ shelf, children }: { shelf: Shelf; children: ComponentChildren }) {
  const over = useSignal(false);
  useEffect(() => {
    const left = new AbortController();
    const { signal } = left;
    const dragged = (event: DragEvent) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      over.value = true;
    };
    const gone = (event: DragEvent) => {
      // Leaving the window has nothing to enter.
      if (event.relatedTarget === null) over.value = false;
    };
    const dropped = (event: DragEvent) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      over.value = false;
      void shelf.takeFiles([...(event.dataTransfer?.files ?? [])]);
    };
    window.addEventListener('dragover', dragged, { signal });
    window.addEventListener('dragleave', gone, { signal });
    window.addEventListener('drop', dropped, { signal });
    return () => left.abort();
  }, [shelf]);
  return (
    <div class="page">
      {children}
      {over.value && (
        <div class="drop" aria-hidden="true">
          <p>{t('tunes_drop_here')}</p>
        </div>
      )}
    </div>
  );
}
