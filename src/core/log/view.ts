import { streakOf } from './climb.ts';
import type { Inner } from './inner.ts';
import { indexOfSpan, ladderOf, type Ladder } from './ladder.ts';
import type { ChartState, CurrentStep, StepTally } from './state.ts';

/** What screens see, and beside it what the next event needs. Plain JSON: a snapshot is this. */
export interface Folded extends ChartState {
  readonly inner: Readonly<Inner>;
}

function currentStep(f: Inner, ladder: Ladder): CurrentStep | null {
  if (!f.live || !f.plan) return null;
  const { from, to, bpm } = f.live;
  const index = ladder.rungs[f.rung] === bpm ? indexOfSpan(ladder, f.live) : -1;
  const kind = ladder.steps[index]?.kind ?? 'chosen';
  return { from, to, bpm, index, kind, streak: streakOf(f.plan.plan, f.live) };
}

const NO_LADDER: Ladder = { steps: [], rungs: [], bySpan: new Map() };
const NO_TALLY: StepTally = { passes: 0, slips: 0, minutes: 0, breaks: [] };

/** Keeps `f`: it must not be assigned to afterwards. */
export function viewOf(f: Inner): Folded {
  const ladder = f.plan ? ladderOf(f.plan.plan) : NO_LADDER;
  return {
    chart: f.chart,
    document: f.document,
    name: f.name,
    removed: f.removedSeq > f.openedSeq,
    addedAt: f.addedAt,
    words: f.words,
    archived: f.archived,
    sets: f.sets,
    carried: f.carried,
    joined: f.joined,
    marks: f.marks,
    forks: f.forks,
    plan: f.plan,
    step: currentStep(f, ladder),
    finished: ladder.steps.length > 0 && f.rung >= ladder.rungs.length,
    rungs: ladder.rungs.map((bpm, rung) => ({
      bpm,
      done: f.done[rung]?.length ?? 0,
      steps: ladder.steps.length,
    })),
    open: f.left.map((index) => {
      const { from, to } = ladder.steps[index]!;
      return { from, to };
    }),
    knots: f.live?.knots ?? [],
    voidSpent: f.live?.voidSpent ?? false,
    cold: f.live?.cold ?? false,
    tally: f.live?.tally ?? NO_TALLY,
    passes: f.passes,
    lastPass: f.lastPass,
    firstPassAt: f.firstPassAt,
    last: f.last,
    undo: f.undo,
    inner: f,
  };
}
