import { t } from '../../host/i18n.ts';
import type { Actions } from './actions.ts';
import type { Editor } from './editor.ts';

interface PanelProps {
  readonly editor: Editor;
  readonly actions: Actions;
}

/** The selected line of music: how many bars it has, and what can be done with it. */
export function SystemPanel({ editor, actions }: PanelProps) {
  const system = editor.system();
  const { kind } = editor.selection.value;
  if (!system || kind === 'bars') return null;
  const line = editor.marks.value.systems.indexOf(system) + 1;
  const count = system.bars.length;
  return (
    <section class="marks-panel" aria-label={t('marks_panel_line')}>
      <div class="marks-row">
        <h2>{t('marks_line', line)}</h2>
        <span class="marks-stepper">
          <button
            aria-label={t('marks_cmd_fewer')}
            disabled={count <= 1}
            onClick={() => actions.setCount(count - 1)}
          >
            {'−'}
          </button>
          <output aria-label={t('marks_bars_here')}>{count}</output>
          <button aria-label={t('marks_cmd_more')} onClick={() => actions.setCount(count + 1)}>
            {'+'}
          </button>
        </span>
      </div>
      <div class="marks-buttons">
        <button class="first" onClick={() => actions.copy()}>
          {t('marks_cmd_copy')}
        </button>
        <button onClick={() => actions.remove()}>
          {t(kind === 'line' ? 'marks_remove_bar_line' : 'marks_remove_line')}
        </button>
      </div>
    </section>
  );
}
