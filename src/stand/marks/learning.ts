import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { changesBetween, type Change } from '../../core/chart/changes.ts';
import type { Edit } from '../../core/chart/edit.ts';
import type { Marks } from '../../core/chart/types.ts';
import { teach, type Taught } from '../../core/find/teach/index.ts';
import type { SeenLine } from '../../core/find/types.ts';
import { plural, type PluralKey } from '../../host/i18n.ts';
import type { StandContext } from '../mode.ts';

/** A line moved by keys is where it belongs once it has stood still for so long, ms. */
const SETTLED = 1200;

/** Places that have changed by something else than the player's own hand, to be looked at one by one. */
export interface Changes {
  readonly text: string;
  readonly list: readonly Change[];
  /** The marks that it led to: as long as they are there it can be taken back at once. */
  readonly marks: Marks;
}

const words: Record<Taught['what'], PluralKey> = {
  joined: 'marks_taught_joined',
  split: 'marks_taught_split',
  moved: 'marks_taught_moved',
  repeats: 'marks_taught_repeats',
  vouched: 'marks_taught_vouched',
  removed: 'marks_taught_removed',
};

export interface Learning {
  readonly changes: Signal<Changes | null>;
  /** After a correction; `soon` waits until the player's hand rests. */
  corrected(command: Edit, before: Marks, soon: boolean): void;
  /** Marks have been taken back: a lesson that led to them is not given again. */
  undone(marks: Marks): void;
}

/**
 * Learns from corrections: `put` makes what was learned one step of the history.
 * @param present the marks as they are now
 */
export function createLearning(
  context: StandContext,
  present: ReadonlySignal<Marks>,
  put: (marks: Marks) => void,
): Learning {
  const changes = signal<Changes | null>(null);
  const lessons = new Map<Marks, readonly SeenLine[]>();
  const denied = new Set<SeenLine>();
  let waiting: { readonly command: Edit; readonly before: Marks; readonly after: Marks } | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const learn = (command: Edit, before: Marks) => {
    const after = present.peek();
    const seen = context.seen.peek();
    const taught = teach(command, { before, after, seen, denied, newId: () => crypto.randomUUID() });
    if (!taught) return;
    const list = changesBetween(after, taught.marks);
    const bars = new Set(taught.bars);
    const count = Math.max(1, taught.lines.length || taught.bars.length || countGone(after, taught.marks));
    const text = plural(words[taught.what], count);
    lessons.set(taught.marks, taught.lines);
    put(taught.marks);
    // Of what was joined or split, what has come is looked at; raised bars have not changed but in that.
    const shown =
      taught.what === 'vouched'
        ? placesOf(taught.marks, bars)
        : list.filter((change) => change.what !== 'gone' || taught.what === 'removed');
    changes.value = { text, list: shown, marks: taught.marks };
    context.announce(text);
  };

  return {
    changes,
    corrected(command, before, soon) {
      clearTimeout(timer);
      changes.value = null;
      const isSame = waiting?.command.type === command.type && waiting.after === before;
      const from = isSame ? waiting!.before : before;
      waiting = null;
      if (!soon) {
        learn(command, from);
        return;
      }
      waiting = { command, before: from, after: present.peek() };
      timer = setTimeout(() => {
        // Something else has been done meanwhile: then the place was not settled.
        if (waiting?.after === present.peek()) learn(command, from);
        waiting = null;
      }, SETTLED);
    },
    undone(marks) {
      clearTimeout(timer);
      waiting = null;
      for (const line of lessons.get(marks) ?? []) denied.add(line);
      changes.value = null;
    },
  };
}

const countGone = (before: Marks, after: Marks) => before.systems.length - after.systems.length;

const placesOf = (marks: Marks, bars: ReadonlySet<string>): Change[] =>
  marks.systems.flatMap(({ page, top, bottom, bars: all }) =>
    all
      .filter(({ id }) => bars.has(id))
      .map(({ id, x0, x1 }): Change => ({ what: 'changed', bar: id, page, box: [x0, top, x1, bottom] })),
  );
