/** A file that has changed under the same name or address: never mixed with the old one, offered once. */
import type { Marks } from '../core/chart/types.ts';
import type { Card } from '../core/log/card.ts';
import type { DocumentInfo } from '../store/types.ts';

export interface Edition {
  readonly older: Card;
  readonly newer: Card;
}

/** Names that every site and scanner gives: they say nothing about what is in the file. */
const NO_NAME = /^(scan|scanned|document|download|file|print|untitled|image|img|page)?[\s\d_().-]*\.pdf$/i;

const labelsOf = ({ names, urls }: DocumentInfo) => [
  ...urls.map((url) => url.replace(/#.*$/, '')),
  ...names.filter((name) => !NO_NAME.test(name)),
];

/**
 * Charts whose file came under a name or address that a boxed chart with other bytes had before, and about which
 * nothing has been decided yet. Each with the newest of those before it.
 */
export function editionsOf(cards: readonly Card[], documents: readonly DocumentInfo[]): Edition[] {
  const byHash = new Map(documents.map((each) => [each.hash, each]));
  const byLabel = new Map<string, Card[]>();
  const inUse = cards.filter((card) => !card.removed);
  const labels = (card: Card) => {
    const document = card.document === null ? undefined : byHash.get(card.document);
    return document ? labelsOf(document) : [];
  };
  for (const card of inUse)
    for (const label of labels(card)) byLabel.set(label, [...(byLabel.get(label) ?? []), card]);
  return inUse.flatMap((newer) => {
    if (newer.carried || newer.addedAt === null) return [];
    const { addedAt } = newer;
    const before = labels(newer)
      .flatMap((label) => byLabel.get(label) ?? [])
      .filter(
        (card) =>
          card.document !== newer.document && card.marks && card.addedAt !== null && card.addedAt < addedAt,
      )
      .sort((a, b) => (a.addedAt! < b.addedAt! ? 1 : -1));
    return before[0] ? [{ older: before[0], newer }] : [];
  });
}

/** Marks as they can be proposed for a file of so many pages: what they say of pages it has not is left out. */
export function marksOn(marks: Marks, pages: number): Marks {
  const systems = marks.systems.filter(({ page }) => page < pages);
  if (systems.length === marks.systems.length) return marks;
  const there = new Set(systems.flatMap(({ bars }) => bars.map(({ id }) => id)));
  const { byHand, ...rest } = marks;
  const whole = byHand?.every(({ from, to }) => there.has(from) && there.has(to)) ?? false;
  return {
    ...rest,
    ...(whole && byHand && { byHand }),
    systems: systems.map((system) => ({
      ...system,
      bars: system.bars.map(({ as, ...bar }) => (as !== undefined && there.has(as) ? { ...bar, as } : bar)),
    })),
  };
}
