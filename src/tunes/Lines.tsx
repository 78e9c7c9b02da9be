import type { ComponentChildren } from 'preact';
import { t } from '../host/i18n.ts';
import type { ChartProblem } from '../host/problem.ts';
import { editionsOf } from './editions.ts';
import { problemLines } from './problems.ts';
import type { Shelf } from './shelf.ts';

/** The one line that says what went wrong and what to do next. */
export function Warning({ problem, close }: { problem: ChartProblem; close?: () => void }) {
  return (
    <div class="line">
      <p class="warning" role="alert">
        {t(problemLines[problem.code], problem.about, problem.detail)}
      </p>
      {close && <button onClick={close}>{t('problem_close')}</button>}
    </div>
  );
}

const Line = ({ name, text, children }: { name: string; text: string; children: ComponentChildren }) => (
  <div class={`line ${name}`}>
    <p>{text}</p>
    <div class="buttons">{children}</div>
  </div>
);

/** A file that has changed under its name: its marks can be carried over. Asked once, one chart at a time. */
function EditionLine({ shelf }: { shelf: Shelf }) {
  const documents = shelf.documents.value;
  const [edition] = documents ? editionsOf(shelf.cards.value ?? [], [...documents.values()]) : [];
  if (!edition) return null;
  const { older, newer } = edition;
  const apart = () =>
    shelf.make(t('tunes_edition_apart_done', newer.name), [
      { chart: newer.chart, bodies: [{ type: 'carried', of: older.chart, what: 'nothing' }] },
    ]);
  return (
    <Line name="edition" text={t('tunes_edition', newer.name, older.name)}>
      <button class="first carry" onClick={() => void shelf.carry(edition)}>
        {t('tunes_edition_carry')}
      </button>
      <button class="apart" onClick={() => void apart()}>
        {t('tunes_edition_apart')}
      </button>
    </Line>
  );
}

/** From the first pass on there is something to lose. */
function PromiseLine({ shelf }: { shelf: Shelf }) {
  const played = shelf.cards.value?.some(({ playedAt }) => playedAt !== null) ?? false;
  if (!played || shelf.promised.value !== false) return null;
  return (
    <Line name="promise-line" text={t('tunes_promise_why')}>
      <button class="ask-to-keep" onClick={() => void shelf.askToKeep()}>
        {t('tunes_ask_to_keep')}
      </button>
    </Line>
  );
}

/** What has just happened: a problem, a note, the last change with its undo. */
export function Lines({ shelf }: { shelf: Shelf }) {
  const { problem, note, last } = shelf;
  return (
    <div class="lines">
      {problem.value && <Warning problem={problem.value} close={() => (problem.value = null)} />}
      {note.value !== null && <p class="line">{note.value}</p>}
      {last.value && (
        <Line name="change" text={last.value.text}>
          <button class="undo" onClick={() => void shelf.undo()}>
            {t('tunes_undo')}
          </button>
        </Line>
      )}
    </div>
  );
}

/** What the page has to ask. */
export function Asks({ shelf }: { shelf: Shelf }) {
  return (
    <div class="lines">
      <EditionLine shelf={shelf} />
      <PromiseLine shelf={shelf} />
    </div>
  );
}
