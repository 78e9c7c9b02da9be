/** A page on which no music is found as it lies may lie on its side: it is looked at turned. */
import { turnOn } from '../../core/chart/turn.ts';
import type { Turn, Turns } from '../../core/chart/types.ts';
import { SIDEWAYS, uprightness } from '../../core/find/lying.ts';
import type { FoundPage } from '../../core/find/types.ts';
import type { Finder } from './finder.ts';

/** What is found on a page, and how far it is turned for that. */
export interface Looked {
  readonly page: FoundPage;
  readonly turn: Turn;
}

/** A page looked at turned one way. */
interface Way extends Looked {
  readonly score: number;
}

/**
 * After so many pages in a row without music either way, no other is turned until music is found again: a cover and a
 * foreword may come first, and a file without music must not take long.
 */
const TRIED = 3;

/** A page whose ways differ by less does not tell by itself which is right: about half a sign. */
const TELLS = 0.5;

export interface Looker {
  /** What is found on a page, from 0; null when it cannot be read. `stays`: it is looked at only as it lies. Throws NoFinder. */
  readonly look: (index: number, stays?: boolean) => Promise<Looked | null>;
  /** A page that `look` gave, the right way up by all that have been turned until now. */
  readonly settled: (looked: Looked) => Looked;
}

/** Looks at pages that are turned so far as is known, and turns each that lies on its side. */
export function createLooker(finder: Pick<Finder, 'find'>, turns: Turns, signal: AbortSignal): Looker {
  const lying = new Map<number, readonly Way[]>();
  let without = 0;
  return {
    async look(index, stays = false) {
      const turn = turnOn(turns, index);
      const page = await finder.find(index, turn);
      if (page === null) return null;
      const hasMusic = page.systems.length > 0;
      if (hasMusic) without = 0;
      if (hasMusic || stays || without >= TRIED) return { page, turn };
      const ways = await bothWays(finder, index, turn, signal);
      without = ways ? 0 : without + 1;
      if (!ways) return { page, turn };
      lying.set(index, ways);
      return upright(ways, [...lying.values()]);
    },
    settled(looked) {
      const ways = lying.get(looked.page.page);
      return ways ? upright(ways, [...lying.values()]) : looked;
    },
  };
}

/** A page turned either way; null where there is no music, or it was stopped. */
async function bothWays(
  finder: Pick<Finder, 'find'>,
  index: number,
  from: Turn,
  signal: AbortSignal,
): Promise<readonly Way[] | null> {
  const ways: Way[] = [];
  for (const side of SIDEWAYS) {
    if (signal.aborted) return null;
    const turn = ((from + side) % 360) as Turn;
    const page = await finder.find(index, turn);
    const score = page && uprightness([page]);
    // Staves are found upside down too: without music the one way there is none the other.
    if (page === null || score === null) return null;
    ways.push({ page, turn, score });
  }
  return ways;
}

/** The way that is right: as the page itself tells, or else as all pages together do. */
function upright(ways: readonly Way[], all: readonly (readonly Way[])[]): Looked {
  const [best, other] = [...ways].sort((a, b) => b.score - a.score);
  const sum = (turn: Turn) =>
    all.flat().reduce((total, way) => (way.turn === turn ? total + way.score : total), 0);
  const isTold = best!.score - other!.score >= TELLS || sum(best!.turn) >= sum(other!.turn);
  const { page, turn } = isTold ? best! : other!;
  return { page, turn };
}
