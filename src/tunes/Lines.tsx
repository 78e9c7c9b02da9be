import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { fileNameOf } from '../core/chart/naming.ts';
import type { Joinable } from '../core/log/join.ts';
import { t } from '../host/i18n.ts';
import type { ChartProblem } from '../host/problem.ts';
import { editionsOf } from './editions.ts';
import { join, joinableOf, leave } from './joins.ts';
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

/** Two charts of the same lines, as after merging the saves of two machines. Asked once, one pair at a time. */
function JoinLine({ shelf }: { shelf: Shelf }) {
  const offered = useSignal<Joinable | null>(null);
  const cards = shelf.cards.value;
  useEffect(() => {
    const over = new AbortController();
    void joinableOf(cards ?? [], shelf.store, over.signal)
      // The page is closing; it is offered the next time.
      .catch(() => null)
      .then((found) => {
        if (!over.signal.aborted) offered.value = found;
      });
    return () => over.abort();
  }, [cards]);
  const joinable = offered.value;
  if (!joinable) return null;
  const { stays, goes, again } = joinable;
  const ask = again ? 'tunes_join_again' : goes.name === stays.name ? 'tunes_join_same' : 'tunes_join';
  return (
    <Line name="join" text={t(ask, goes.name, stays.name)}>
      <button class="first join-them" onClick={() => void join(shelf, joinable)}>
        {t(again ? 'tunes_join_again_yes' : 'tunes_join_yes')}
      </button>
      <button class="apart" onClick={() => void leave(shelf, joinable)}>
        {t('tunes_join_no')}
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

/** A PDF is on its way from a site; Escape stops it as the button does. */
function FetchingLine({ shelf }: { shelf: Shelf }) {
  const now = shelf.sites.fetching.value;
  const going = now !== null;
  useEffect(() => {
    if (!going) return;
    const left = new AbortController();
    const stop = ({ key, defaultPrevented }: KeyboardEvent) => {
      // Where something lies over the page, Escape is for that.
      if (key === 'Escape' && !defaultPrevented && !document.querySelector('dialog[open]'))
        shelf.sites.fetching.peek()?.stop();
    };
    window.addEventListener('keydown', stop, { signal: left.signal });
    return () => left.abort();
  }, [going]);
  if (!now) return null;
  return (
    <div class="line fetching">
      <p role="status">{now.text}</p>
      <div class="buttons">
        <button data-command="stop-fetching" onClick={() => now.stop()}>
          {t('tunes_fetch_stop')}
        </button>
      </div>
    </div>
  );
}

/** A site that was taken back is asked for before it is read again. */
function AgainLine({ shelf }: { shelf: Shelf }) {
  const { again } = shelf.sites;
  const address = again.value;
  if (address === null) return null;
  return (
    <Line name="again" text={t('tunes_site_again', new URL(address).host, fileNameOf(address, null))}>
      <button class="first" onClick={() => void shelf.sites.takeAgain(address)}>
        {t('tunes_site_again_yes')}
      </button>
      <button onClick={() => (again.value = null)}>{t('tunes_leave')}</button>
    </Line>
  );
}

/** What has just happened: a problem, a note, the last change with its undo. */
export function Lines({ shelf }: { shelf: Shelf }) {
  const { problem, note, last } = shelf;
  return (
    <div class="lines">
      {problem.value && <Warning problem={problem.value} close={() => (problem.value = null)} />}
      <FetchingLine shelf={shelf} />
      <AgainLine shelf={shelf} />
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
      <JoinLine shelf={shelf} />
      <PromiseLine shelf={shelf} />
    </div>
  );
}
