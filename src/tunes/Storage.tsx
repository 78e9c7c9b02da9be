import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { getLanguage, plural, t } from '../host/i18n.ts';
import { keptOf, LONG, sumOf, unplayed } from './copies.ts';
import { Confirm } from './Sheet.tsx';
import type { Shelf } from './shelf.ts';
import { sizeText } from './words.ts';

interface Measured {
  readonly events: number;
  /** What the browser says it uses and could use for us, bytes; null where it does not say. */
  readonly usage: number | null;
  readonly quota: number | null;
}

async function measure(shelf: Shelf): Promise<Measured> {
  const [events, estimate] = await Promise.all([
    shelf.store.eventCount(),
    navigator.storage.estimate().catch((): StorageEstimate => ({})),
  ]);
  return { events, usage: estimate.usage ?? null, quota: estimate.quota ?? null };
}

/** What is kept, how much room is left, and whether the browser has promised to keep it. */
export function Storage({ shelf, close }: { shelf: Shelf; close: () => void }) {
  const measured = useSignal<Measured | null>(null);
  const asking = useSignal(false);
  const picker = useRef<HTMLInputElement>(null);
  const language = getLanguage();
  // The sample's file is no copy of the player's.
  const documents = [...(shelf.documents.value?.values() ?? [])].filter(
    ({ hash }) => hash !== shelf.sample.value,
  );
  const any = (shelf.cards.value ?? []).length > 0;
  const copies = sumOf(keptOf(documents));
  const { keepCopies } = shelf.settings.value;
  // Who wants no copies may drop all there are.
  const old = keepCopies ? unplayed(shelf.cards.value ?? [], documents, Date.now()) : keptOf(documents);
  const { count, bytes } = sumOf(old);
  useEffect(() => {
    void measure(shelf).then((now) => (measured.value = now));
  }, [shelf.documents.value]);
  const merge = (input: HTMLInputElement) => {
    const files = [...(input.files ?? [])];
    input.value = '';
    close();
    void shelf.takeFiles(files);
  };
  const { events = 0, usage = null, quota = null } = measured.value ?? {};
  const size = (amount: number) => sizeText(Math.max(0, amount), language);
  const figures = [
    { name: t('tunes_kept_copies'), value: `${plural('tunes_files', copies.count)}, ${size(copies.bytes)}` },
    { name: t('tunes_kept_log'), value: plural('tunes_events', events) },
    ...(usage === null ? [] : [{ name: t('tunes_kept_all'), value: size(usage) }]),
    ...(quota === null || usage === null ? [] : [{ name: t('tunes_room'), value: size(quota - usage) }]),
  ];
  const unplayedText =
    count === 0 ? t('tunes_drop_none', LONG) : plural('tunes_drop_note', count, size(bytes), LONG);
  const toDrop = keepCopies ? unplayedText : plural('tunes_drop_kept', count, size(bytes));
  const { promised } = shelf;
  return (
    <section class="storage">
      <h3>{t('tunes_storage')}</h3>
      <p>{t('tunes_storage_told')}</p>
      <dl>
        {figures.map(({ name, value }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <label class="key-letters keep-copies">
        <input
          type="checkbox"
          checked={keepCopies}
          onChange={(event) => void shelf.change({ keepCopies: event.currentTarget.checked })}
        />
        <span>{t('tunes_keep_copies')}</span>
      </label>
      <p class="quiet">{t('tunes_keep_copies_note')}</p>
      <p class="promise">{t(promised.value === true ? 'tunes_promised' : 'tunes_not_promised')}</p>
      <div class="buttons">
        {promised.value !== true && (
          <button class="ask-to-keep" onClick={() => void shelf.askToKeep()}>
            {t('tunes_ask_to_keep')}
          </button>
        )}
        <button class="drop-old" disabled={count === 0} onClick={() => (asking.value = true)}>
          {t('tunes_drop_old')}
        </button>
      </div>
      <p class="quiet">{toDrop}</p>
      <h3>{t('tunes_saves')}</h3>
      <div class="buttons">
        <button class="first" disabled={!any} onClick={() => void shelf.save({ pdfs: true })}>
          {t('tunes_save')}
        </button>
        <button disabled={!any} onClick={() => void shelf.save({ pdfs: false })}>
          {t('tunes_save_log')}
        </button>
        <button onClick={() => picker.current?.click()}>{t('tunes_merge')}</button>
      </div>
      <input
        ref={picker}
        class="merge-file"
        type="file"
        accept=".json,.zip,application/json,application/zip"
        hidden
        aria-label={t('tunes_merge')}
        onChange={(event) => merge(event.currentTarget)}
      />
      {asking.value && (
        <Confirm
          title={t('tunes_drop_old')}
          text={plural('tunes_drop_sure', count, size(bytes))}
          yes={t('tunes_drop_yes')}
          done={() => void shelf.drop(old)}
          close={() => (asking.value = false)}
        />
      )}
    </section>
  );
}
