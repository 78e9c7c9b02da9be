import { t, type MessageKey } from '../host/i18n.ts';
import type { TuneSort } from '../store/types.ts';
import { archive, remove } from './deeds.ts';
import { cardsIn, type Place } from './list.ts';
import { renamed } from './sets.ts';
import type { Shelf } from './shelf.ts';
import type { View } from './view.ts';

const sorts: Readonly<Record<TuneSort, MessageKey>> = {
  played: 'tunes_sort_played',
  name: 'tunes_sort_name',
  standing: 'tunes_sort_standing',
  added: 'tunes_sort_added',
};

interface BarProps {
  readonly shelf: Shelf;
  readonly view: View;
}

const isSame = (a: Place, b: Place) =>
  a.kind === b.kind && (a.kind !== 'set' || b.kind !== 'set' || a.set === b.set);

/** All tunes, each set, the archive: which of them is listed. */
function Places({ shelf, view }: BarProps) {
  const cards = shelf.cards.value ?? [];
  const count = (place: Place) => cardsIn(cards, place).length;
  const places: { place: Place; name: string; count: number }[] = [
    { place: { kind: 'all' }, name: t('tunes_place_all'), count: count({ kind: 'all' }) },
    ...view.sets.value.map((set) => ({
      place: { kind: 'set' as const, set: set.name },
      name: set.name,
      count: set.count,
    })),
    { place: { kind: 'archive' }, name: t('tunes_place_archive'), count: count({ kind: 'archive' }) },
  ];
  return (
    <nav class="places" aria-label={t('tunes_places')}>
      {places.map(({ place, name, count: many }) => (
        <button
          key={`${place.kind} ${name}`}
          data-place={place.kind}
          aria-pressed={isSame(place, view.place.value)}
          onClick={() => view.go(place)}
        >
          {name} <span class="quiet">{many}</span>
        </button>
      ))}
    </nav>
  );
}

/** What can be done with the tunes that are chosen; it stays in view. */
export function Chosen({ shelf, view }: BarProps) {
  const chosen = view.chosen.value ?? new Set();
  const cards = view.listed.value.filter(({ chart }) => chosen.has(chart));
  const away = view.place.value.kind !== 'archive';
  const none = cards.length === 0;
  const doing = (work: () => Promise<void>) => () =>
    void work().then(() => {
      view.chosen.value = null;
    });
  return (
    <div class="chosen" role="group" aria-label={t('tunes_several')}>
      <p>{t('tunes_chosen', cards.length)}</p>
      <button
        class="choose-all"
        onClick={() => (view.chosen.value = new Set(view.found.value.map(({ chart }) => chart)))}
      >
        {t('tunes_choose_all')}
      </button>
      <button class="put-in-set" disabled={none} onClick={() => (view.over.value = { kind: 'put-in-set' })}>
        {t('tunes_put')}
      </button>
      <button class="archive" disabled={none} onClick={doing(() => archive(shelf, cards, away))}>
        {t(away ? 'tunes_archive' : 'tunes_unarchive')}
      </button>
      <button class="remove" disabled={none} onClick={doing(() => remove(shelf, cards))}>
        {t('tunes_remove')}
      </button>
      <button class="done" onClick={() => (view.chosen.value = null)}>
        {t('tunes_done')}
      </button>
    </div>
  );
}

/** Above the list: which tunes, in which order, and the way to several at once. */
export function ListBar({ shelf, view }: BarProps) {
  const place = view.place.value;
  const apart = (set: string) => {
    const members = view.listed.value;
    void shelf.make(
      t('tunes_set_gone', set),
      members.map(({ chart }) => ({ chart, bodies: [{ type: 'listed', set, rank: null }] })),
    );
  };
  return (
    <div class="list-bar">
      <Places shelf={shelf} view={view} />
      {view.chosen.value === null && (
        <div class="list-tools">
          {place.kind === 'set' ? (
            <>
              <button class="plain rename-set" onClick={() => (view.over.value = { kind: 'set-name' })}>
                {t('tunes_set_rename')}
              </button>
              <button class="plain part-set" onClick={() => apart(place.set)}>
                {t('tunes_set_apart')}
              </button>
            </>
          ) : (
            <label class="sort">
              <span class="quiet">{t('tunes_sort')}</span>
              <select
                value={shelf.settings.value.tuneSort}
                onChange={(event) => void shelf.change({ tuneSort: event.currentTarget.value as TuneSort })}
              >
                {Object.entries(sorts).map(([sort, label]) => (
                  <option key={sort} value={sort}>
                    {t(label)}
                  </option>
                ))}
              </select>
            </label>
          )}
          {view.listed.value.length > 0 && (
            <button class="plain choose-several" onClick={() => (view.chosen.value = new Set())}>
              {t('tunes_choose_several')}
            </button>
          )}
        </div>
      )}
    </div>
  );
}

/** The set that is listed, under another name. */
export function renameSet(shelf: Shelf, view: View, name: string): void {
  const place = view.place.value;
  if (place.kind !== 'set' || name === place.set) return;
  const additions = renamed(shelf.cards.value ?? [], place.set, name);
  void shelf.make(t('tunes_set_named', name), additions).then(() => view.go({ kind: 'set', set: name }));
}
