import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import { hasHost } from '../host/permissions.ts';
import { offeredLink } from './OpenChart.tsx';
import type { Shelf } from './shelf.ts';

const holdsFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;

const holdsLink = (event: DragEvent) => event.dataTransfer?.types.includes('text/uri-list') ?? false;

/** The first web or file address of a dragged link (RFC 2483: one a line, `#` begins a comment); null: none. */
function linkIn(transfer: DataTransfer | null): string | null {
  const lines = transfer?.getData('text/uri-list').split(/\r?\n/) ?? [];
  return lines.find((line) => /^(https?|file):/.test(line)) ?? null;
}

/** The whole window takes files and links: a PDF is opened, a save is merged. */
export function DropZone({ shelf, children }: { shelf: Shelf; children: ComponentChildren }) {
  const over = useSignal(false);
  useEffect(() => {
    const left = new AbortController();
    const { signal } = left;
    // The page's own links are dragged over it for other reasons.
    let own = false;
    const takes = (event: DragEvent) => !own && (holdsFiles(event) || holdsLink(event));
    const takeLink = async (link: string) => {
      // A drop is no press: the browser asks about a new site only when "fetch" is pressed.
      if (link.startsWith('file:') || (await hasHost(link))) await shelf.sites.take(link);
      else offeredLink.value = link;
    };
    const dragged = (event: DragEvent) => {
      if (!takes(event)) return;
      event.preventDefault();
      over.value = true;
    };
    const gone = (event: DragEvent) => {
      // Leaving the window has nothing to enter.
      if (event.relatedTarget === null) over.value = false;
    };
    const dropped = (event: DragEvent) => {
      if (!takes(event)) return;
      event.preventDefault();
      over.value = false;
      const link = linkIn(event.dataTransfer);
      if (!holdsFiles(event)) return link === null ? undefined : void takeLink(link);
      void shelf.takeFiles([...(event.dataTransfer?.files ?? [])]);
    };
    window.addEventListener('dragstart', () => (own = true), { signal });
    window.addEventListener('dragend', () => (own = false), { signal });
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
