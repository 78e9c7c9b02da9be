/** Stretches of bars that look like an earlier stretch: what a player is asked about, where no twin is said. */

/** How two written bars look beside each other. */
export type Likeness = 'same' | 'near' | 'other' | 'unknown';

/** Bars `from` on look like those `like` on, `count` of them; places count from 0. */
export interface Run {
  readonly from: number;
  readonly like: number;
  readonly count: number;
}

/** What a pair of bars says for a run. A bar that looks otherwise needs more than one that does not. */
const SAYS: Readonly<Record<Likeness, number>> = { same: 1, near: 1, unknown: -0.1, other: -1 };
/** A run says at least so much: two bars that are alike by chance are no section. */
const ENOUGH = 2;

/**
 * Runs that say most, no later bar in two of them, by their first bars. A run never reaches into what it is like.
 * @param count bars, from 0
 */
export function runsOf(count: number, likeness: (early: number, late: number) => Likeness): Run[] {
  const taken = new Set<number>();
  const runs: Run[] = [];
  for (;;) {
    const best = bestOf(count, likeness, taken);
    if (best === null) return runs.sort((a, b) => a.from - b.from);
    const run = widened(best, count, likeness, taken);
    runs.push(run);
    for (let i = 0; i < run.count; i++) taken.add(run.from + i);
  }
}

/** The run that says most, the earliest bars of those; null: none says enough. */
function bestOf(
  count: number,
  likeness: (early: number, late: number) => Likeness,
  taken: ReadonlySet<number>,
): Run | null {
  let best: Run | null = null;
  let most = ENOUGH - 1e-9;
  for (let apart = count - 1; apart > 0; apart--) {
    let [sum, start] = [0, 0];
    for (let early = 0; early + apart < count; early++) {
      const late = early + apart;
      if (sum <= 0 || early - start >= apart) [sum, start] = [0, early];
      if (taken.has(late)) {
        [sum, start] = [0, early + 1];
        continue;
      }
      sum += SAYS[likeness(early, late)];
      if (sum > most + 1e-9) {
        most = sum;
        best = { from: start + apart, like: start, count: early - start + 1 };
      }
    }
  }
  return best;
}

/** A bar that cannot be compared belongs to the run it stands beside: first bars of lines are often such. */
function widened(
  run: Run,
  count: number,
  likeness: (early: number, late: number) => Likeness,
  taken: ReadonlySet<number>,
): Run {
  const { from, like, count: long } = run;
  const isOpen = (early: number, late: number) =>
    early >= 0 && late < count && !taken.has(late) && likeness(early, late) === 'unknown';
  const before = long < from - like && isOpen(like - 1, from - 1) ? 1 : 0;
  const after = long + before < from - like && isOpen(like + long, from + long) ? 1 : 0;
  return { from: from - before, like: like - before, count: long + before + after };
}
