import { useRef } from 'preact/hooks';
import type { Card } from '../core/log/card.ts';
import type { EventBody } from '../core/log/events.ts';
import { t } from '../host/i18n.ts';
import { putIn } from './sets.ts';
import { Sheet } from './Sheet.tsx';
import type { Shelf } from './shelf.ts';
import type { TuneSet } from './sets.ts';

/** The longest name of a tune or a set. */
export const LONGEST_NAME = 200;
const LONGEST_WORDS = 2000;

/** What a filled-in sheet says anew about its tune. */
function changesOf(
  form: FormData,
  card: Card,
  cards: readonly Card[],
  sets: readonly TuneSet[],
): EventBody[] {
  const text = (name: string) => {
    const value = form.get(name);
    return typeof value === 'string' ? value.trim() : '';
  };
  const [name, words, fresh] = [text('name'), text('words'), text('new-set')];
  const isIn = (set: string) => card.sets.some((each) => each.set === set);
  const wanted = new Set([...form.getAll('set').map(String), ...(fresh ? [fresh] : [])]);
  const left = sets.filter((set) => isIn(set.name) && !wanted.has(set.name));
  return [
    ...(name && name !== card.name ? [{ type: 'named' as const, name }] : []),
    ...(words !== card.words ? [{ type: 'noted' as const, words }] : []),
    ...left.map((set) => ({ type: 'listed' as const, set: set.name, rank: null })),
    ...[...wanted].flatMap((set) => putIn(cards, [card], set).flatMap(({ bodies }) => bodies)),
  ];
}

/** A tune's name, the player's own words about it, and the sets it stands in. */
export function DetailsSheet({
  card,
  sets,
  shelf,
  close,
}: {
  card: Card;
  sets: readonly TuneSet[];
  shelf: Shelf;
  close: () => void;
}) {
  const form = useRef<HTMLFormElement>(null);
  const sent = (event: SubmitEvent) => {
    event.preventDefault();
    const bodies = changesOf(new FormData(form.current!), card, shelf.cards.value ?? [], sets);
    close();
    void shelf.make(t('tunes_details_changed', card.name), [{ chart: card.chart, bodies }]);
  };
  return (
    <Sheet title={t('tunes_details')} close={close}>
      <form class="fields" ref={form} onSubmit={sent}>
        <label>
          <span>{t('tunes_name')}</span>
          <input name="name" defaultValue={card.name} maxLength={LONGEST_NAME} required />
        </label>
        <label>
          <span>{t('tunes_words')}</span>
          <textarea name="words" rows={3} maxLength={LONGEST_WORDS} defaultValue={card.words} />
          <span class="quiet">{t('tunes_words_note')}</span>
        </label>
        <fieldset>
          <legend>{t('tunes_sets')}</legend>
          {sets.map(({ name }) => (
            <label key={name} class="check">
              <input
                type="checkbox"
                name="set"
                value={name}
                defaultChecked={card.sets.some(({ set }) => set === name)}
              />
              <span>{name}</span>
            </label>
          ))}
          <input
            name="new-set"
            maxLength={LONGEST_NAME}
            aria-label={t('tunes_set_new')}
            placeholder={t('tunes_set_new')}
          />
        </fieldset>
        <div class="buttons">
          <button class="first">{t('tunes_keep')}</button>
          <button type="button" onClick={close}>
            {t('tunes_leave')}
          </button>
        </div>
      </form>
    </Sheet>
  );
}
