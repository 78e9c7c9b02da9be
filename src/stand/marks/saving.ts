import { effect, type ReadonlySignal, type Signal } from '@preact/signals';
import { barsOf } from '../../core/chart/edit-shape.ts';
import { defaultNumbers, planOf, playablePlan } from '../../core/chart/plan.ts';
import type { Marks, Numbers, Plan } from '../../core/chart/types.ts';
import type { StandContext } from '../mode.ts';
import type { Editor } from './editor.ts';

/** Marks are kept when nothing has changed for so long, ms. */
const IDLE = 800;

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

export interface Keeper {
  /** Keeps the marks, and the plan if the player has changed its numbers. Nothing when all is kept already. */
  readonly keep: () => Promise<void>;
  /** Keeps marks and plan, for the drill. */
  keepPlan(): Promise<void>;
  /** Keeps what is left and ends. */
  end(): void;
}

/** The numbers a chart is drilled by: those of its plan, or the usual ones. */
export const numbersOf = ({ state }: StandContext): Numbers =>
  state.peek().plan?.plan.numbers ?? defaultNumbers;

/** Keeps marks as they change: one event a pause, each with the event it was edited from. */
export function createKeeper(
  context: StandContext,
  editor: Editor,
  numbers: Signal<Numbers>,
  restarted: () => void,
): Keeper {
  const { state, writing } = context;
  const present = () => editor.history.peek().present;
  /** The marks as they were last read or written. */
  let kept = present();
  let keptEvent = state.peek().marks?.event ?? null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  // One after the other: a second save must have the first one's event as its parent.
  let queue: Promise<void> = Promise.resolve();

  const writeMarks = async () => {
    const marks = present();
    if (!writing.peek() || same(marks, kept)) return;
    const before = kept;
    kept = marks;
    try {
      const next = await context.append([
        { type: 'marks', parent: state.peek().marks?.event ?? null, marks },
      ]);
      keptEvent = next.marks?.event ?? null;
    } catch (error) {
      kept = before;
      throw error;
    }
  };
  const writePlan = async (plan: Plan) => {
    const marks = state.peek().marks;
    if (!writing.peek() || !marks || same(plan, state.peek().plan?.plan)) return;
    await context.append([{ type: 'plan', marks: marks.event, plan }]);
  };
  const writeNumbers = async () => {
    if (same(numbers.peek(), numbersOf(context))) return;
    const plan = playablePlan(present(), numbers.peek());
    if (plan) await writePlan(plan);
  };
  const inTurn = (work: () => Promise<void>): Promise<void> => {
    clearTimeout(timer);
    const done = queue.then(work);
    // The failure has been shown by `append`; the marks stay to be kept with the next change.
    queue = done.catch(() => undefined);
    return done;
  };
  const keep = () =>
    inTurn(async () => {
      await writeMarks();
      await writeNumbers();
    });
  const soon = () => {
    clearTimeout(timer);
    timer = setTimeout(() => void keep().catch(() => undefined), IDLE);
  };

  const ended = new AbortController();
  const hidden = () => void keep().catch(() => undefined);
  document.addEventListener('visibilitychange', hidden, { signal: ended.signal });
  addEventListener('pagehide', hidden, { signal: ended.signal });
  const stopWatching = effect(() => {
    // Read, so that a change of either starts the pause anew.
    if (editor.history.value.present !== kept || !same(numbers.value, numbersOf(context))) soon();
  });
  /** Another stand has written: this one follows, unless it holds changes of its own. */
  const stopFollowing = followMarks(state, (event, marks) => {
    if (event === keptEvent || (writing.peek() && !same(present(), kept))) return;
    keptEvent = event;
    if (same(marks, present())) return;
    kept = marks;
    editor.restart(marks);
    restarted();
  });

  return {
    keep,
    keepPlan: () =>
      inTurn(async () => {
        const plan = planOf(present(), numbers.peek());
        await writeMarks();
        await writePlan(plan);
      }),
    end() {
      void keep().catch(() => undefined);
      ended.abort();
      stopWatching();
      stopFollowing();
    },
  };
}

function followMarks(
  state: ReadonlySignal<StandContext['state']['value']>,
  changed: (event: string, marks: Marks) => void,
): () => void {
  return effect(() => {
    const now = state.value.marks;
    if (now) changed(now.event, now.marks);
  });
}

export const hasBars = (marks: Marks): boolean => barsOf(marks).some((bar) => bar.pickup === undefined);
