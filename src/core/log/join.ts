/** Two charts that hold the same lines of one file, as after a merge of two machines: one stays and counts the other. */
import { barsOf } from '../chart/edit-shape.ts';
import { isSamePlace } from '../chart/place.ts';
import { linesLying, turnsOf } from '../chart/turn.ts';
import type { Marks, PageBox, System } from '../chart/types.ts';
import { doneSoFar } from './carry.ts';
import type { Card } from './card.ts';
import type { ChartKey, EventBody } from './events.ts';
import type { Folded } from './view.ts';

/** So much of either chart's bars stands at the places of the other's: they are the same tune, not neighbours. */
const SAME_SHARE = 0.5;

interface OnPage {
  readonly page: number;
  readonly box: PageBox;
}

const placesOf = (systems: readonly System[]): OnPage[] =>
  systems.flatMap(({ page, top, bottom, bars }) =>
    bars.map(({ x0, x1 }) => ({ page, box: [x0, top, x1, bottom] })),
  );

/** Whether two charts of one file hold the same lines. Places on pages that lie otherwise cannot be compared. */
export function holdsSameLines(a: Marks, b: Marks): boolean {
  const theirs = placesOf(linesLying(b, turnsOf(a)));
  const same = placesOf(a.systems).filter((place) =>
    theirs.some((other) => isSamePlace(place, other)),
  ).length;
  return same > 0 && same >= SAME_SHARE * Math.max(barsOf(a).length, barsOf(b).length);
}

/** The chart that a chart has been joined into; null for one that stands for itself. */
export const goesInto = ({ joined }: Pick<Card, 'joined'>): ChartKey | null =>
  joined.findLast(({ as }) => as === 'goes')?.with ?? null;

/**
 * The chart that a chart lives on in, itself if it was never joined. Where two machines joined the same two the
 * one into the other, each the other way round, the smaller key stays. `into`: null also for a chart not known.
 */
export function livesIn(chart: ChartKey, into: (chart: ChartKey) => ChartKey | null): ChartKey {
  const way = [chart];
  for (let next = into(chart); next !== null; next = into(next)) {
    const before = way.indexOf(next);
    if (before >= 0) return way.slice(before).sort()[0]!;
    way.push(next);
  }
  return way.at(-1)!;
}

/** For each card the chart that it lives on in. */
function livesOn(cards: readonly Card[]): (chart: ChartKey) => ChartKey {
  const known = new Set(cards.map(({ chart }) => chart));
  const into = new Map(
    cards.flatMap((card) => {
      const there = goesInto(card);
      return there !== null && known.has(there) ? [[card.chart, there] as const] : [];
    }),
  );
  return (chart) => livesIn(chart, (each) => into.get(each) ?? null);
}

/** The cards with those out of sight that were joined into another. */
export function withoutJoined(cards: readonly Card[]): Card[] {
  const lives = livesOn(cards);
  return cards.map((card) =>
    card.removed || lives(card.chart) === card.chart ? card : { ...card, removed: true },
  );
}

/** Two charts that could be joined: the one that would stay, and the one that would go into it. */
export interface Joinable {
  readonly stays: Card;
  readonly goes: Card;
  /** They were joined before, and the one that went has been played since, on another machine. */
  readonly again: boolean;
}

/** The one that has been played more, has a plan, is the whole file's, came first: it stays. */
const before = (a: Card, b: Card): number =>
  b.passes - a.passes ||
  Number(b.rungs.length > 0) - Number(a.rungs.length > 0) ||
  Number(b.chart === b.document) - Number(a.chart === a.document) ||
  ((a.addedAt ?? '') < (b.addedAt ?? '') ? -1 : a.addedAt === b.addedAt ? 0 : 1) ||
  (a.chart < b.chart ? -1 : 1);

const sharesPage = (a: Card, b: Card): boolean =>
  a.pages !== null && b.pages !== null && a.pages[0] <= b.pages[1] && b.pages[0] <= a.pages[1];

const isApart = (a: Card, b: Card): boolean =>
  a.joined.some((each) => each.with === b.chart && each.as === 'apart');

/**
 * Charts of one file that share a page, and about which nothing has been decided; and those that were joined and
 * have been played since. Whether they hold the same lines only their marks say. In the order of their keys, each
 * worked out when it is asked for: of a book with hundreds of charts few pairs are looked at.
 */
export function* mayBeJoined(cards: readonly Card[]): Generator<Joinable, void> {
  const lives = livesOn(cards);
  const byKey = new Map(cards.map((card) => [card.chart, card]));
  const byDocument = new Map<string, Card[]>();
  for (const card of [...cards].sort((a, b) => (a.chart < b.chart ? -1 : 1))) {
    const home = byKey.get(lives(card.chart))!;
    if (home !== card) {
      const counted = home.joined.find((each) => each.with === card.chart)?.passes ?? 0;
      if (!home.removed && card.passes > counted) yield { stays: home, goes: card, again: true };
      continue;
    }
    if (card.removed || card.document === null || card.pages === null) continue;
    const others = byDocument.get(card.document) ?? [];
    byDocument.set(card.document, [...others, card]);
    for (const other of others) {
      if (!sharesPage(card, other) || isApart(card, other) || isApart(other, card)) continue;
      const [stays, goes] = before(card, other) < 0 ? [card, other] : [other, card];
      yield { stays, goes, again: false };
    }
  }
}

/** The words of both, each once. */
function wordsOf(stays: string, goes: string): string | null {
  if (goes === '' || stays.includes(goes)) return null;
  return stays === '' ? goes : `${stays}\n${goes}`;
}

/** What is to be written where a chart takes another in, and on the one that goes. */
export interface JoinedBodies {
  readonly stays: readonly EventBody[];
  readonly goes: readonly EventBody[];
}

/**
 * Joins two charts. The one that stays keeps its marks, its plan and its history; steps done on the other count in it
 * where the bars stand at the same places, and it gets the other's sets and words. The other's log stays as it is.
 */
export function joining(stays: Folded, goes: Folded): JoinedBodies {
  const words = wordsOf(stays.words, goes.words);
  const sets = goes.sets.filter(({ set }) => !stays.sets.some((each) => each.set === set));
  const through = goes.joined.filter((each) => each.as === 'stays' && each.with !== stays.chart);
  return {
    stays: [
      { type: 'joined', with: goes.chart, as: 'stays', passes: goes.passes, done: doneSoFar(goes.inner) },
      ...through.map((each): EventBody => ({ type: 'joined', ...each, done: [] })),
      ...sets.map(({ set, rank }): EventBody => ({ type: 'listed', set, rank })),
      ...(words === null ? [] : [{ type: 'noted', words } as const]),
      ...(stays.archived && !goes.archived ? [{ type: 'archived', away: false } as const] : []),
    ],
    goes:
      goesInto(goes) === stays.chart
        ? []
        : [{ type: 'joined', with: stays.chart, as: 'goes', passes: 0, done: [] }],
  };
}

/** They stay two, or what was played since is not counted: not asked again. */
export const leftApart = ({ goes, again }: Joinable): EventBody => ({
  type: 'joined',
  with: goes.chart,
  as: again ? 'stays' : 'apart',
  passes: goes.passes,
  done: [],
});
