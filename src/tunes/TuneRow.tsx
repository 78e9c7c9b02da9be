import type { Card } from '../core/log/card.ts';
import { getLanguage, t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import { NoteSign } from '../ui/NoteSign.tsx';
import { unitName } from '../ui/units.ts';
import { isMissing } from './copies.ts';
import { LyingLadder } from './LyingLadder.tsx';
import { Picture } from './Picture.tsx';
import { opened } from './opened.ts';
import { RowMenu } from './RowMenu.tsx';
import type { Shelf } from './shelf.ts';
import type { View } from './view.ts';
import { aboutText, stepText } from './words.ts';

export interface RowProps {
  readonly card: Card;
  readonly shelf: Shelf;
  readonly view: View;
}

/** Where the chart stands: its tempo and step, or in words what is still to be done. */
function Standing({ card }: { card: Card }) {
  const { step, marks, finished, playedAt, unit } = card;
  if (finished) return <strong>{t('tunes_row_finished')}</strong>;
  if (!step) return <span class="quiet">{t(marks ? 'tunes_row_marked' : 'tunes_row_unmarked')}</span>;
  return (
    <>
      <strong class="tempo">
        <NoteSign unit={unit} name={unitName(unit)} />
        {` = ${step.bpm}`}
      </strong>
      <span class="quiet">{playedAt ? stepText(step) : t('tunes_row_marked')}</span>
    </>
  );
}

function Shown({ card, shelf }: Omit<RowProps, 'view'>) {
  const missing = isMissing(card, shelf.documents.value);
  return (
    <>
      <Picture card={card} store={shelf.store} />
      <span class="named">
        <strong>{card.name}</strong>
        <span class="quiet about">{aboutText(card, new Date(), getLanguage(), missing)}</span>
        {card.words && <span class="own-words">{card.words}</span>}
      </span>
      {card.rungs.length > 0 ? <LyingLadder rungs={card.rungs} /> : <span class="no-ladder" />}
      <span class="standing">
        <Standing card={card} />
      </span>
    </>
  );
}

/** One chart: press it and it stands on the stand; while tunes are chosen, a press chooses it. */
export function TuneRow({ card, index, count, shelf, view }: RowProps & { index: number; count: number }) {
  const chosen = view.chosen.value;
  const toggle = () => {
    const next = new Set(chosen);
    if (!next.delete(card.chart)) next.add(card.chart);
    view.chosen.value = next;
  };
  return (
    <li
      class="tune"
      data-index={index}
      style={{ '--index': String(index) }}
      aria-setsize={count}
      aria-posinset={index + 1}
    >
      {chosen ? (
        <label class="tune-body choosing">
          <input
            type="checkbox"
            checked={chosen.has(card.chart)}
            aria-label={t('tunes_choose_this', card.name)}
            onChange={toggle}
          />
          <Shown card={card} shelf={shelf} />
        </label>
      ) : (
        <>
          <a
            class="tune-body"
            href={pageUrl('stand', { chart: card.chart })}
            onClick={(event) => opened(event, card, false, shelf, view)}
          >
            <Shown card={card} shelf={shelf} />
          </a>
          <RowMenu card={card} shelf={shelf} view={view} />
        </>
      )}
    </li>
  );
}
