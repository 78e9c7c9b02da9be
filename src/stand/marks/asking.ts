import { computed, type ReadonlySignal } from '@preact/signals';
import { placed } from '../../core/chart/reach.ts';
import type { BarId } from '../../core/chart/types.ts';
import { questionsOf, type TwinQuestion } from '../../core/find/chart/questions.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Handlers } from '../../ui/commands.ts';
import type { StandContext } from '../mode.ts';
import type { Editor } from './editor.ts';

/** Asks which stretches hold the same music, one at a time. */
export interface Asking {
  readonly questions: ReadonlySignal<readonly TwinQuestion[]>;
  /** Bars of the first question. */
  readonly lit: ReadonlySignal<ReadonlySet<BarId>>;
  readonly handlers: Handlers;
}

/** Pairs that nothing speaks against, and those that look otherwise or could not be compared. */
export const looksAlike = ({ look }: TwinQuestion['pairs'][number]): boolean =>
  look === 'same' || look === 'near';

export function createAsking(context: StandContext, editor: Editor): Asking {
  const questions = computed(() => questionsOf(editor.history.value.present, context.likely.value));
  const lit = computed(
    () => new Set(questions.value[0]?.pairs.flatMap(({ bar, like }) => [bar, like]) ?? []),
  );
  const answer = (isSame: (pair: TwinQuestion['pairs'][number]) => boolean) => {
    const [question] = questions.peek();
    if (!question) {
      context.announce(t('marks_alike_none'));
      return;
    }
    const told = question.pairs.map((pair) => ({ bar: pair.bar, like: pair.like, isSame: isSame(pair) }));
    if (!editor.make({ type: 'tell-twins', told })) return;
    const same = told.filter((pair) => pair.isSame).length;
    context.announce(same === 0 ? t('marks_alike_apart') : plural('marks_alike_said', same));
  };
  const show = () => {
    const marks = editor.history.peek().present;
    const bars = new Set(lit.peek());
    const boxes = marks.systems.flatMap((system) =>
      system.bars.filter(({ id }) => bars.has(id)).map((bar) => placed(marks, system, bar)),
    );
    if (boxes.length > 0) context.view.frame(boxes, { smooth: true });
    else context.announce(t('marks_alike_none'));
  };
  return {
    questions,
    lit,
    handlers: {
      'marks-alike': () => answer(() => true),
      'marks-alike-but': () => answer(looksAlike),
      'marks-unlike': () => answer(() => false),
      'marks-alike-show': show,
    },
  };
}
