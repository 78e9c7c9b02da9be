import { signal, useSignal, useSignalEffect } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import type { Shelf } from './shelf.ts';

/** A link that was dropped, of a site that was never granted: it waits for the press on "fetch". */
export const offeredLink = signal<string | null>(null);

/** The button "open a chart" with its menu: a file, or the address of a PDF. */
export function OpenChart({ shelf }: { shelf: Shelf }) {
  const open = useSignal(false);
  const box = useRef<HTMLDivElement>(null);
  const picker = useRef<HTMLInputElement>(null);
  const address = useRef<HTMLInputElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const close = () => (open.value = false);
  useEffect(() => {
    if (!open.value) return;
    const left = new AbortController();
    const { signal } = left;
    const elsewhere = (event: Event) => {
      if (event.target instanceof Node && !box.current?.contains(event.target)) close();
    };
    const escape = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      close();
      button.current?.focus();
    };
    window.addEventListener('pointerdown', elsewhere, { signal });
    window.addEventListener('focusin', elsewhere, { signal });
    window.addEventListener('keydown', escape, { signal });
    return () => left.abort();
  }, [open.value]);

  const fetchButton = useRef<HTMLButtonElement>(null);
  useSignalEffect(() => {
    const link = offeredLink.value;
    if (link === null) return;
    offeredLink.value = null;
    open.value = true;
    if (address.current) address.current.value = link;
    requestAnimationFrame(() => fetchButton.current?.focus());
  });

  const picked = (input: HTMLInputElement) => {
    const files = [...(input.files ?? [])];
    // The same file chosen again is a new choice.
    input.value = '';
    close();
    void shelf.takeFiles(files);
  };
  const sent = (event: SubmitEvent) => {
    event.preventDefault();
    // The browser's question about the site must come from this very press: nothing is awaited before it.
    void shelf.sites.take((address.current?.value ?? '').trim());
    close();
  };
  return (
    <div class="open-chart" ref={box}>
      <button
        ref={button}
        aria-expanded={open.value}
        aria-controls="open-menu"
        onClick={() => (open.value = !open.value)}
      >
        {t('tunes_open')}
      </button>
      <input
        ref={picker}
        class="open-file"
        type="file"
        accept="application/pdf,.pdf"
        multiple
        hidden
        aria-label={t('tunes_choose')}
        onChange={(event) => picked(event.currentTarget)}
      />
      <div id="open-menu" class="open-menu" hidden={!open.value}>
        <button class="first" onClick={() => picker.current?.click()}>
          {t('tunes_choose')}
        </button>
        <form onSubmit={sent}>
          <label for="address">{t('tunes_address')}</label>
          <div class="address">
            <input
              ref={address}
              id="address"
              class="open-address"
              name="address"
              inputMode="url"
              autoComplete="off"
              required
            />
            <button ref={fetchButton} disabled={shelf.sites.fetching.value !== null}>
              {t('tunes_fetch')}
            </button>
          </div>
          <p class="quiet">{t('tunes_fetch_note')}</p>
        </form>
        <p class="quiet">{t('tunes_drop_note')}</p>
      </div>
    </div>
  );
}
