import { t } from '../host/i18n.ts';
import type { ChartProblem } from '../host/problem.ts';
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

/** What has just happened: a problem, a note, and charts that can still be brought back. */
export function Lines({ shelf }: { shelf: Shelf }) {
  const { problem, note, removed } = shelf;
  return (
    <div class="lines">
      {problem.value && <Warning problem={problem.value} close={() => (problem.value = null)} />}
      {note.value !== null && <p class="line">{note.value}</p>}
      {removed.value.map((gone) => (
        <div key={gone.event} class="line">
          <p>{t('tunes_removed', gone.name)}</p>
          <button class="undo" onClick={() => void shelf.bringBack(gone)}>
            {t('tunes_undo')}
          </button>
        </div>
      ))}
    </div>
  );
}
