import type { FoundBar, FoundPage, FoundSystem } from '../types.ts';

/** One box of the chart with where it stands. */
export interface Placed {
  readonly page: number;
  readonly system: number;
  /** Index among the bars of its page. */
  readonly index: number;
  readonly bar: FoundBar;
}

/**
 * What only the whole chart tells: brackets that go on over a line have their numbers from the line before, one whose
 * numbers could not be read counts on, a bar without a bar line at its line's end goes on at the next line, and only
 * the first bar is a pickup.
 */
export function settle(pages: readonly FoundPage[]): Placed[] {
  const all: Placed[] = pages.flatMap(({ page, systems }) => {
    let index = 0;
    return systems.flatMap(({ bars }, system) => bars.map((bar) => ({ page, system, index: index++, bar })));
  });
  let before: Placed | undefined;
  return all.map((placed) => {
    const startsLine =
      before !== undefined && (before.page !== placed.page || before.system !== placed.system);
    const continues = startsLine && before!.bar.right === 'none' && placed.bar.left === 'none';
    const { ending, pickup, pickupBeats, ...rest } = placed.bar;
    const open = before?.bar.ending ?? [];
    const isUnread = ending?.length === 0 && placed.bar.endingStarts === true;
    const numbers = isUnread ? [Math.max(0, ...open) + 1] : ending?.length === 0 ? open : ending;
    const bar: FoundBar = {
      ...rest,
      ...(before === undefined && pickup === true ? { pickup } : {}),
      ...(before === undefined && pickupBeats !== undefined ? { pickupBeats } : {}),
      ...(numbers === undefined || numbers.length === 0 ? {} : { ending: numbers }),
      ...(continues ? { continues: true } : {}),
    };
    before = { ...placed, bar };
    return before;
  });
}

/** Groups boxes into written bars: a bar broken over lines counts once. */
export function writtenOf(placed: readonly Placed[]): Placed[][] {
  const written: Placed[][] = [];
  for (const one of placed)
    if (one.bar.continues === true && written.length > 0) written.at(-1)!.push(one);
    else written.push([one]);
  return written;
}

/** A page with its lines as they are in the whole chart; what was no pickup after all is none among its signs. */
export function settledPage(page: FoundPage, systems: readonly FoundSystem[]): FoundPage {
  const bars = systems.flatMap((system) => system.bars);
  const signs = page.signs.filter(({ kind, bar }) => kind !== 'pickup' || bars[bar]?.pickup === true);
  return { ...page, systems, signs };
}
