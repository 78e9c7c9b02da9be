/** A new plan: what was done and begun is found again where the same music comes again. */
import type { Plan, Span } from '../chart/types.ts';
import { sameMusic } from '../ladder/index.ts';
import { finishStep, goOn, settle } from './climb.ts';
import type { DoneRoute } from './events.ts';
import type { Inner } from './inner.ts';
import { indexOfSpan, ladderOf, nthAtTempo, rungAt } from './ladder.ts';
import { copyOf, type Streak } from './rope.ts';

/** Routes of earlier plans and joined charts kept for their done steps; beyond this the oldest is forgotten. */
const EARLIER = 8;

/** Where a span of one plan comes again in another: in its own place, else as a step, else anywhere. */
export function translate(from: Pick<Plan, 'bars'>, to: Plan, span: Span): Span | null {
  const fits = (candidate: Span) => candidate.to < to.bars.length && sameMusic(from, span, to, candidate);
  if (fits(span)) return { from: span.from, to: span.to };
  const step = ladderOf(to).steps.find((candidate) => sameMusic(from, span, to, candidate));
  if (step) return { from: step.from, to: step.to };
  const length = span.to - span.from;
  for (let start = 0; start + length < to.bars.length; start++) {
    const candidate = { from: start, to: start + length };
    if (fits(candidate)) return candidate;
  }
  return null;
}

function moved(streak: Streak, span: Span): Streak {
  const by = span.from - streak.from;
  const breaks = streak.tally.breaks.map((each) => ({ ...each, place: each.place + by }));
  return { ...copyOf(streak), from: span.from, to: span.to, tally: { ...streak.tally, breaks } };
}

/** Everything done so far, the present plan's steps last, each with the route it was done on. */
export function doneSoFar(f: Readonly<Inner>): DoneRoute[] {
  if (!f.plan) return [...f.earlier];
  const { steps, rungs } = ladderOf(f.plan.plan);
  const done = f.done.flatMap((indices, rung) =>
    indices.map((index) => {
      const { from, to } = steps[index]!;
      return { from, to, bpm: rungs[rung]!, nth: nthAtTempo(rungs, rung) };
    }),
  );
  return [...f.earlier, { bars: f.plan.plan.bars, done }];
}

/** Marks in `done` where a passed span counts for steps of the plan; false when it counts for none. */
function counts(plan: Plan, done: number[][], route: DoneRoute, each: DoneRoute['done'][number]): boolean {
  const { steps, rungs } = ladderOf(plan);
  const into = done[rungAt(rungs, each.bpm, each.nth)];
  if (!into) return false;
  let found = false;
  for (const [index, step] of steps.entries()) {
    if (!sameMusic(route, each, plan, step)) continue;
    found = true;
    if (!into.includes(index)) into.push(index);
  }
  return found;
}

/** Streaks and steps left open, in the new plan's places; those that do not come again are dropped. */
function carryStreaks(f: Inner, before: Plan, plan: Plan): void {
  const again = (streak: Streak | null): Streak | null => {
    const span = streak && translate(before, plan, streak);
    return span && moved(streak, span);
  };
  f.live = again(f.live);
  f.aside = f.aside.flatMap((streak) => again(streak) ?? []);
  f.points = f.points.map((point) => ({ ...point, live: again(point.live) }));
  const old = ladderOf(before);
  const now = ladderOf(plan);
  f.left = f.left.flatMap((index) => {
    const span = translate(before, plan, old.steps[index]!);
    const there = span ? indexOfSpan(now, span) : -1;
    return there < 0 ? [] : [there];
  });
  const bpm = old.rungs[f.rung];
  f.rung = bpm === undefined ? 0 : Math.max(0, rungAt(now.rungs, bpm, nthAtTempo(old.rungs, f.rung)));
}

/** Marks in `done` what was done on these routes; gives back what the plan does not list. */
function count(plan: Plan, done: number[][], routes: readonly DoneRoute[]): DoneRoute[] {
  return routes
    .map((route) => ({ ...route, done: route.done.filter((each) => !counts(plan, done, route, each)) }))
    .filter((route) => route.done.length > 0);
}

/** What was done on another chart of the same lines counts here, now and under later plans. */
export function takeDone(f: Inner, routes: readonly DoneRoute[]): void {
  const done = f.done.map((indices) => [...indices]);
  const left = f.plan ? count(f.plan.plan, done, routes) : routes;
  f.earlier = [...left, ...f.earlier].slice(-EARLIER);
  if (!f.plan) return;
  f.done = done;
  settle(f);
}

/** Puts a plan in force. */
export function takePlan(f: Inner, event: string, plan: Plan): void {
  const done = ladderOf(plan).rungs.map((): number[] => []);
  f.earlier = count(plan, done, doneSoFar(f)).slice(-EARLIER);
  if (f.plan) carryStreaks(f, f.plan.plan, plan);
  f.plan = { event, plan };
  f.done = done;
  f.place = 0;
  if (f.live) settle(f);
  else goOn(f, 0);
  finishStep(f);
}
