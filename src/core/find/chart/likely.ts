/** Stretches of a chart that look like earlier ones without its being sure that they hold the same music. */
import { NEARLY, unlikeness } from '../alike/compare.ts';
import { runsOf, type Likeness, type Run } from '../alike/runs.ts';
import type { PageBox } from '../../chart/types.ts';
import type { FoundPage } from '../types.ts';
import { settle, writtenOf, type Placed } from './settle.ts';
import { contentOf, looksOf, twinsOf } from './twins.ts';

/** Two bars beside each other; `bar` is the later one. */
export interface LikelyPair {
  readonly bar: FoundPlace;
  readonly like: FoundPlace;
  readonly look: Likeness;
}

/** Where a bar was found; of one that goes on over lines, its first part. Box in fractions of the page. */
export interface FoundPlace {
  readonly page: number;
  readonly box: PageBox;
}

/** A stretch and what it looks like, bar by bar. */
export type Likely = readonly LikelyPair[];

/**
 * Stretches of found pages that a player is to be asked about, in reading order. Those whose bars are all twins, or
 * look otherwise, are no question.
 */
export function likelyTwins(pages: readonly FoundPage[]): Likely[] {
  const written = writtenOf(settle(pages));
  const likeness = likenessOf(written, pages);
  const place = (index: number): FoundPlace => {
    const { page, bar } = written[index]![0]!;
    return { page, box: bar.box };
  };
  return filled(runsOf(written.length, likeness), sectionsOf(written, pages))
    .map(({ from, like, count }) =>
      Array.from({ length: count }, (_, i) => ({
        bar: place(from + i),
        like: place(like + i),
        look: likeness(like + i, from + i),
      })),
    )
    .filter((pairs) => pairs.some(({ look }) => look === 'near' || look === 'unknown'));
}

interface Section {
  readonly name: string;
  readonly from: number;
  /** The first bar behind it. */
  readonly to: number;
}

/** Sections by their letters, in written bars. */
function sectionsOf(written: readonly (readonly Placed[])[], pages: readonly FoundPage[]): Section[] {
  const letters = pages.flatMap(({ page, signs }) =>
    signs.flatMap(({ kind, text, bar }) => (kind === 'section' && text ? [{ page, bar, name: text }] : [])),
  );
  const starts = written.flatMap((parts, from) => {
    const letter = letters.find((one) => one.page === parts[0]!.page && one.bar === parts[0]!.index);
    return letter ? [{ name: letter.name, from }] : [];
  });
  return starts.map((start, i) => ({ ...start, to: starts[i + 1]?.from ?? written.length }));
}

/** A run inside two sections of one name, at the same place of both, is a question about the whole section. */
function filled(runs: readonly Run[], sections: readonly Section[]): Run[] {
  const all: Run[] = [];
  for (const run of runs) {
    const at = (bar: number) => sections.find(({ from, to }) => bar >= from && bar < to);
    const [own, other] = [at(run.from), at(run.like)];
    const isSame = own && other && own !== other && own.name === other.name;
    const count = isSame ? Math.min(own.to - own.from, other.to - other.from) : 0;
    const before = own ? run.from - own.from : 0;
    const isWithin =
      isSame && run.like - other.from === before && before + run.count <= count && other.to <= own.from;
    const next = isWithin ? { from: own.from, like: other.from, count } : run;
    // Another run in the same section is part of that question.
    if (!all.some(({ from, count: long }) => next.from < from + long && from < next.from + next.count))
      all.push(next);
  }
  return all;
}

/** How two written bars look beside each other; each pair is compared once. */
function likenessOf(
  written: readonly (readonly Placed[])[],
  pages: readonly FoundPage[],
): (early: number, late: number) => Likeness {
  const looks = looksOf(written, pages);
  const classes = new Map(twinsOf(written, looks).flatMap((list, k) => list.map((bar) => [bar, k] as const)));
  const known = new Map<string, Likeness>();
  const compared = (a: number, b: number): Likeness => {
    if (classes.has(a) && classes.get(a) === classes.get(b)) return 'same';
    // As engraved there is no doubt.
    if (contentOf(written[a]!) && contentOf(written[b]!)) return 'other';
    const [one, other] = [looks[a]?.bar, looks[b]?.bar];
    if (!one || !other) return 'unknown';
    return unlikeness(one, other, NEARLY).staves <= NEARLY ? 'near' : 'other';
  };
  return (early, late) => {
    const name = `${early} ${late}`;
    const look = known.get(name) ?? compared(early, late);
    known.set(name, look);
    return look;
  };
}
