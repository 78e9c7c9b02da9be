import { rootsOf } from '../../chart/edit-twins.ts';
import { isSamePlace } from '../../chart/place.ts';
import type { Bar, BarId, Marks } from '../../chart/types.ts';
import type { Likeness } from '../alike/runs.ts';
import type { FoundPlace, Likely } from './likely.ts';

/** Whether these bars hold the same music as those, pair by pair, as bars of the marks. */
export interface TwinQuestion {
  readonly pairs: readonly { readonly bar: BarId; readonly like: BarId; readonly look: Likeness }[];
}

/**
 * What is still to be asked of the marks as they are: nothing of bars that have been said to be the same or not, and
 * nothing of bars that stand there no more.
 */
export function questionsOf(marks: Marks, likely: readonly Likely[]): TwinQuestion[] {
  const at = placesOf(marks);
  const root = rootsOf(marks);
  const answered = new Set(marks.unlike?.map(([bar, like]) => `${bar} ${like}`));
  return likely.flatMap((run) => {
    const pairs = run.flatMap(({ bar, like, look }) => {
      const [one, other] = [at(bar), at(like)];
      if (!one || !other || one.continues || other.continues) return [];
      if (one.pickup !== undefined || other.pickup !== undefined) return [];
      return [{ bar: one.id, like: other.id, look }];
    });
    const open = pairs.filter(({ bar, like }) => root(bar) !== root(like) && !answered.has(`${bar} ${like}`));
    // Of a stretch that has been answered nothing more is asked.
    const isAnswered = pairs.some(({ bar, like }) => answered.has(`${bar} ${like}`));
    return !isAnswered && open.some(({ look }) => look !== 'other') ? [{ pairs }] : [];
  });
}

/** The bar of the marks that stands at a place. */
function placesOf(marks: Marks): (place: FoundPlace) => Bar | undefined {
  const bars = marks.systems.flatMap((system) =>
    system.bars.map((bar) => ({
      bar,
      page: system.page,
      box: [bar.x0, system.top, bar.x1, system.bottom] as const,
    })),
  );
  return (place) => bars.find((one) => isSamePlace(one, place))?.bar;
}
