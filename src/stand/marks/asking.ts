import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { placed } from '../../core/chart/reach.ts';
import type { BarId, Marks, PlacedBox } from '../../core/chart/types.ts';
import { questionsOf, type TwinQuestion } from '../../core/find/chart/questions.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Handlers } from '../../ui/commands.ts';
import type { StandContext } from '../mode.ts';
import type { Editor } from './editor.ts';

export type Pair = TwinQuestion['pairs'][number];

/** Asks which stretches hold the same music, one at a time. */
export interface Asking {
  readonly questions: ReadonlySignal<readonly TwinQuestion[]>;
  /** Bars of the first question. */
  readonly lit: ReadonlySignal<ReadonlySet<BarId>>;
  /** Whether a pair of it is ticked as the same. */
  isTicked(pair: Pair): boolean;
  tick(pair: Pair, isSame: boolean): void;
  readonly handlers: Handlers;
}

const nameOf = ({ bar, like }: Pair) => `${bar} ${like}`;
/** What speaks for a pair until the player has looked. */
const looksAlike = ({ look }: Pair): boolean => look === 'same' || look === 'near';

export function createAsking(context: StandContext, editor: Editor): Asking {
  const questions = computed(() => questionsOf(editor.history.value.present, context.likely.value));
  const lit = computed(
    () => new Set(questions.value[0]?.pairs.flatMap(({ bar, like }) => [bar, like]) ?? []),
  );
  /** Ticks that the player has changed. */
  const changed = signal<ReadonlyMap<string, boolean>>(new Map());
  const isTicked = (pair: Pair) => changed.value.get(nameOf(pair)) ?? looksAlike(pair);

  const answer = (isSame: (pair: Pair) => boolean) => {
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
    const boxes = boxesOf(editor.history.peek().present, lit.peek());
    if (boxes.length > 0) context.view.frame(boxes, { smooth: true });
    else context.announce(t('marks_alike_none'));
  };
  return {
    questions,
    lit,
    isTicked,
    tick: (pair, isSame) => (changed.value = new Map(changed.peek()).set(nameOf(pair), isSame)),
    handlers: {
      'marks-alike': () => answer(isTicked),
      'marks-unlike': () => answer(() => false),
      'marks-alike-show': show,
    },
  };
}

/** Where bars stand on the pages, in reading order. */
export const boxesOf = (marks: Marks, bars: ReadonlySet<BarId>): PlacedBox[] =>
  marks.systems.flatMap((system) =>
    system.bars.filter(({ id }) => bars.has(id)).map((bar) => placed(marks, system, bar)),
  );
