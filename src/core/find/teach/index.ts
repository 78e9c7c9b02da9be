/** One correction teaches the rest of the chart: what looked the same to the finder is put right the same way. */
import { mendOrder } from '../../chart/by-hand.ts';
import type { Edit } from '../../chart/edit.ts';
import { seen as seenBy } from '../../chart/found.ts';
import type { NewId } from '../../chart/edit-systems.ts';
import type { BarId, Marks } from '../../chart/types.ts';
import { withVersion } from '../../chart/version.ts';
import type { SeenLine } from '../types.ts';
import { joinLikes, moveLikes, splitLikes } from './lines.ts';
import { lineAt, seenAt, type SeenSystem } from './places.ts';
import { raiseLikes, removeLikes, repeatLikes } from './words.ts';

export { seenSystems, type SeenSystem } from './places.ts';

/** A correction and what it is learned from. */
export interface Lesson {
  readonly before: Marks;
  readonly after: Marks;
  /** What was seen on the chart's pages. */
  readonly seen: readonly SeenSystem[];
  /** Strokes that a lesson was taken back for: they are what they were found to be. */
  readonly denied: ReadonlySet<SeenLine>;
  /** Bars of `before` that the correction is about. */
  readonly said: readonly BarId[];
  readonly newId: NewId;
}

export type TaughtKind = 'joined' | 'split' | 'moved' | 'repeats' | 'vouched' | 'removed';

/** What a correction has changed beyond its own place. */
export interface Taught {
  readonly what: TaughtKind;
  readonly marks: Marks;
  /** The strokes that were read anew. */
  readonly lines: readonly SeenLine[];
  /** The bars that have changed or come to be, in reading order; none where lines of music went. */
  readonly bars: readonly BarId[];
}

/**
 * What a correction says of its likes; null when it says nothing. It never changes a bar that the player has
 * touched or vouched for, and rather teaches nothing than something wrong: only close likeness counts, and a bar
 * line that looks as most do teaches nothing.
 * @param command the edit that led from `before` to `after`
 */
export function teach(
  command: Edit,
  {
    before,
    after,
    seen,
    denied = new Set(),
    newId,
  }: Omit<Lesson, 'said' | 'denied'> & Partial<Pick<Lesson, 'denied'>>,
): Taught | null {
  const lesson = (said: readonly BarId[]): Lesson => ({ before, after, seen, denied, said, newId });
  const taught = learn(command, lesson);
  if (taught === null || taught.marks === after) return null;
  const marks = taught.what === 'vouched' ? taught.marks : seenBy(after, taught.marks);
  return { ...taught, marks: withVersion(mendOrder(after, marks)) };
}

function learn(command: Edit, lesson: (said: readonly BarId[]) => Lesson): Taught | null {
  const { before, after, seen } = lesson([]);
  const systemIn = (marks: Marks, id: string) => marks.systems.find((system) => system.id === id);
  switch (command.type) {
    case 'remove-line': {
      const system = systemIn(before, command.system);
      const here = system && seenAt(system, seen);
      const [left, right] = system?.bars.slice(command.line - 1, command.line + 1) ?? [];
      const line = here && right && lineAt(here, right.x0, true);
      return line && left ? joinLikes(lesson([left.id, right.id]), line) : null;
    }
    case 'add-line': {
      const old = new Set(before.systems.flatMap(({ bars }) => bars.map(({ id }) => id)));
      const system = after.systems.find(({ bars }) => bars.some(({ id }) => !old.has(id)));
      const right = system?.bars.filter(({ id }) => !old.has(id)).at(-1);
      const here = system && seenAt(system, seen);
      const line = here && right && lineAt(here, right.x0, false);
      return line ? splitLikes(lesson([command.bar]), line) : null;
    }
    case 'move-line': {
      const system = systemIn(before, command.system);
      const now = systemIn(after, command.system);
      const here = system && seenAt(system, seen);
      const [left, right] = [system?.bars[command.line - 1], system?.bars[command.line]];
      const to = now?.bars[command.line]?.x0;
      if (!here || !left || !right || to === undefined) return null;
      const line = lineAt(here, to, false);
      const was = lineAt(here, right.x0, true);
      if (line === null) return null;
      const said = lesson([left.id, right.id]);
      return was === null ? splitLikes(said, line) : moveLikes(said, was, line);
    }
    case 'set-bars':
      return command.bars.length === 1
        ? repeatLikes(lesson(command.bars), command.bars[0]!, command.change)
        : null;
    case 'vouch':
      return raiseLikes(lesson(command.bars), command.bars);
    case 'remove-system': {
      const gone = systemIn(before, command.system);
      return gone ? removeLikes(lesson([]), gone) : null;
    }
    default:
      return null;
  }
}
