import type { Marks } from '../../core/chart/types.ts';
import type { TwinQuestion } from '../../core/find/chart/questions.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Handlers } from '../../ui/commands.ts';
import { CommandButton } from '../CommandButton.tsx';
import { looksAlike } from './asking.ts';
import { ranges, wordsOf } from './words.ts';

interface AlikePanelProps {
  readonly marks: Marks;
  readonly questions: readonly TwinQuestion[];
  readonly handlers: Handlers;
}

/** Stretches of a scan that look alike: the player says whether they are, since what is a twin is learned once. */
export function AlikePanel({ marks, questions, handlers }: AlikePanelProps) {
  const [question] = questions;
  if (!question) return null;
  const { pairs } = question;
  const words = wordsOf(marks);
  // "4–8" stays on one line.
  const numbers = (bars: readonly string[]) =>
    ranges(bars.flatMap((id) => words.get(id)?.number ?? [])).replaceAll('–', '\u2060–\u2060');
  const of = (list: TwinQuestion['pairs']) => numbers(list.map(({ bar }) => bar));
  const other = pairs.filter(({ look }) => look === 'other');
  const unknown = pairs.filter(({ look }) => look === 'unknown');
  const left = questions.length - 1;
  return (
    <section class="marks-alike" aria-label={t('marks_alike_title')} data-alike={questions.length}>
      <h2>{t('marks_alike_ask', of(pairs), numbers(pairs.map(({ like }) => like)))}</h2>
      <p>{t('marks_alike_why')}</p>
      {other.length > 0 && <p>{plural('marks_alike_other', other.length, of(other))}</p>}
      {unknown.length > 0 && <p>{plural('marks_alike_unknown', unknown.length, of(unknown))}</p>}
      <div class="marks-found">
        <CommandButton id="marks-alike" label="marks_cmd_alike" handlers={handlers} />
        {!pairs.every(looksAlike) && (
          <CommandButton id="marks-alike-but" label="marks_cmd_alike_but" handlers={handlers} />
        )}
        <CommandButton id="marks-unlike" label="marks_cmd_unlike" handlers={handlers} />
        <CommandButton id="marks-alike-show" label="marks_cmd_alike_show" handlers={handlers} class="plain" />
      </div>
      {left > 0 && <p>{plural('marks_alike_more', left)}</p>}
    </section>
  );
}
