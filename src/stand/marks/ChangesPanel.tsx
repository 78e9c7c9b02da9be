import { plural, t } from '../../host/i18n.ts';
import type { Change } from '../../core/chart/changes.ts';
import type { Marks } from '../../core/chart/types.ts';
import type { Handlers } from '../../ui/commands.ts';
import { CommandButton } from '../CommandButton.tsx';
import type { Actions } from './actions.ts';
import type { Editor } from './editor.ts';
import { wordsOf } from './words.ts';

/** So many are listed; the key leads through all of them. */
const LISTED = 8;

interface ChangesPanelProps {
  readonly editor: Editor;
  readonly actions: Actions;
  readonly handlers: Handlers;
}

/** What has changed by itself: how many places, each one press away, and all of it taken back by one. */
export function ChangesPanel({ editor, actions, handlers }: ChangesPanelProps) {
  const changes = editor.learning.changes.value;
  if (changes === null) return null;
  const marks = editor.history.value.present;
  const { text, list } = changes;
  const left = list.length - LISTED;
  return (
    <section class="marks-changes" aria-label={t('marks_changes_title')} data-changes={list.length}>
      <h2>{text}</h2>
      {list.length > 0 && (
        <ul>
          {list.slice(0, LISTED).map((change, i) => (
            <li key={i}>
              <button class="plain" onClick={() => actions.showChange(change)}>
                {changeText(marks, change)}
              </button>
            </li>
          ))}
          {left > 0 && <li>{plural('marks_changes_more', left)}</li>}
        </ul>
      )}
      <div class="marks-found">
        {list.length > 1 && (
          <CommandButton id="marks-next-change" label="marks_cmd_next_change" handlers={handlers} />
        )}
        {changes.marks === marks && (
          <CommandButton id="marks-undo" label="marks_changes_undo" handlers={handlers} />
        )}
        <button onClick={() => (editor.learning.changes.value = null)}>{t('marks_changes_close')}</button>
      </div>
    </section>
  );
}

/** "Bar 12: new", or where something was. */
function changeText(marks: Marks, { what, bar, page }: Change): string {
  const words = bar === null ? undefined : wordsOf(marks).get(bar);
  if (words === undefined || what === 'gone') return t('marks_change_gone', page + 1);
  return t(what === 'new' ? 'marks_change_new' : 'marks_change_changed', words.number);
}
