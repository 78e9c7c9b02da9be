import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { edit, fromProposal, type Edit } from '../../core/chart/edit.ts';
import { barsOf, overlaps, placeOf, Refused } from '../../core/chart/edit-shape.ts';
import { begin, record, redo, undo, type History } from '../../core/chart/history.ts';
import type { Bar, BarId, Marks, System, SystemId } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';
import type { StandContext, TakenLine } from '../mode.ts';
import { createLearning, type Learning } from './learning.ts';
import { refusalText } from './words.ts';

/** What the next key or button is about. */
export type Selection =
  | { readonly kind: 'none' }
  | { readonly kind: 'system'; readonly system: SystemId }
  /** From `from` to `to` in reading order; one bar when both are the same. */
  | { readonly kind: 'bars'; readonly from: BarId; readonly to: BarId }
  | { readonly kind: 'line'; readonly system: SystemId; readonly line: number };

export const NOTHING: Selection = { kind: 'none' };

/** The marks being edited: a history, what a drag shows before it is let go, and the selection. */
export interface Editor {
  readonly history: ReadonlySignal<History<Marks>>;
  /** What is on the page now, a drag in progress included. */
  readonly marks: ReadonlySignal<Marks>;
  readonly selection: Signal<Selection>;
  /** How many bars the next system gets. */
  readonly count: Signal<number>;
  /** What corrections have taught, and finding again has changed. */
  readonly learning: Learning;
  /** Makes an edit, and learns from it: at once, or when the hand rests. False, with the reason said, when it cannot be made or another stand is writing. */
  make(command: Edit, soon?: boolean): boolean;
  /** Shows an edit without making it yet; what cannot be made leaves the last one shown. */
  show(command: Edit): void;
  /** Makes what is shown. */
  keep(): void;
  /** Drops what is shown. */
  drop(): void;
  undo(): void;
  redo(): void;
  /** Other marks have come from outside: the history begins with them. */
  restart(marks: Marks): void;
  /** Lines have gone to another chart: they are not taken again. */
  readTaken(): Promise<void>;
  /** The system that the selection is in. */
  system(): System | null;
  /** The selected bars, in reading order; none when a line or a system is selected. */
  bars(): readonly Bar[];
}

const FIRST_COUNT = 4;
const newId = () => crypto.randomUUID();

export function createEditor(context: StandContext): Editor {
  /** Lines of other charts; known a little later. */
  let taken: readonly TakenLine[] = [];
  const readTaken = async () => {
    taken = await context.taken();
  };
  readTaken().catch(() => undefined);
  const history = signal(begin(context.state.peek().marks?.marks ?? fromProposal([])));
  const draft = signal<Marks | null>(null);
  const present = computed(() => history.value.present);
  const marks = computed(() => draft.value ?? history.value.present);
  const selection = signal<Selection>(NOTHING);
  const count = signal(history.peek().present.systems.at(-1)?.bars.length ?? FIRST_COUNT);

  const attempt = (command: Edit): Marks | Refused => {
    try {
      return edit(history.peek().present, command, newId);
    } catch (error) {
      if (error instanceof Refused) return error;
      throw error;
    }
  };
  /** What was selected may be gone. */
  const settle = () => {
    const now = selection.peek();
    const bars = new Set(barsOf(marks.peek()).map(({ id }) => id));
    const gone =
      now.kind === 'bars'
        ? !bars.has(now.from) || !bars.has(now.to)
        : now.kind !== 'none' && !marks.peek().systems.some(({ id }) => id === now.system);
    if (gone) selection.value = NOTHING;
  };
  const put = (next: History<Marks>) => {
    draft.value = null;
    history.value = next;
    settle();
  };
  const refuse = (text: string) => {
    context.announce(text);
    context.warn(text);
  };
  const step = (to: (from: History<Marks>) => History<Marks>, none: 'marks_no_undo' | 'marks_no_redo') => {
    const next = to(history.peek());
    const owner = ownerOf(taken, history.peek().present, next.present);
    if (next === history.peek()) context.announce(t(none));
    else if (owner !== null) refuse(t('marks_no_taken', owner));
    else put(next);
  };

  const learning = createLearning(context, present, (learned) => put(record(history.peek(), learned)));
  let shown: Edit | null = null;

  return {
    history,
    marks,
    selection,
    count,
    learning,
    make(command, soon = false) {
      if (!context.writing.peek()) return false;
      const made = attempt(command);
      const before = history.peek().present;
      if (made instanceof Refused) {
        refuse(refusalText(made));
        return false;
      }
      const owner = ownerOf(taken, before, made);
      if (owner !== null) {
        refuse(t('marks_no_taken', owner));
        return false;
      }
      put(record(history.peek(), made));
      if (made !== before) learning.corrected(command, before, soon);
      return true;
    },
    show(command) {
      if (!context.writing.peek()) return;
      const made = attempt(command);
      if (made instanceof Refused || ownerOf(taken, history.peek().present, made) !== null) return;
      draft.value = made;
      shown = command;
    },
    keep() {
      const before = history.peek().present;
      const made = draft.peek();
      if (!made) return;
      put(record(history.peek(), made));
      if (shown && made !== before) learning.corrected(shown, before, false);
    },
    drop: () => (draft.value = null),
    undo() {
      learning.undone(history.peek().present);
      step(undo, 'marks_no_undo');
    },
    redo: () => step(redo, 'marks_no_redo'),
    restart: (value) => put(begin(value)),
    readTaken,
    system() {
      const now = selection.value;
      if (now.kind === 'none') return null;
      if (now.kind === 'bars') return placeOf(marks.value, now.from).system;
      return marks.value.systems.find(({ id }) => id === now.system) ?? null;
    },
    bars() {
      const now = selection.value;
      if (now.kind !== 'bars') return [];
      const all = barsOf(marks.value);
      const [a, b] = [now.from, now.to].map((id) => all.findIndex((bar) => bar.id === id)) as [
        number,
        number,
      ];
      return all.slice(Math.min(a, b), Math.max(a, b) + 1);
    },
  };
}

/** The chart of which an edit would take a line: a line that is new, or now lies over one of it. Null: none. */
function ownerOf(taken: readonly TakenLine[], before: Marks, after: Marks): string | null {
  if (taken.length === 0) return null;
  const was = new Map(before.systems.map((line) => [line.id, line]));
  const moved = after.systems.filter((line) => was.get(line.id) !== line);
  const takes = ({ line }: TakenLine) =>
    moved.some((now) => {
      const old = was.get(now.id);
      return overlaps(now, line) && !(old && overlaps(old, line));
    });
  return taken.find(takes)?.name ?? null;
}
