import type { ChartState } from '../log/state.ts';
import type { EventBody } from '../log/events.ts';
import { answer, vouch } from './answer.ts';
import { stepAfter, stepBefore, type Target } from './move.ts';
import { advance, breakOff, record } from './pass.ts';
import type { Phase, Sign, StopReason, WallChoice } from './phase.ts';
import { after, cut, fill, isAsking, isWaiting } from './queue.ts';
import {
  set,
  type DrillState,
  type Effect,
  type Input,
  type Moment,
  type Steering,
  type Turn,
} from './state.ts';
import type { DrillSettings } from './types.ts';
import { atWall, wallOffer } from './wall.ts';

export const SLOWEST = 20;
export const FASTEST = 400;

/** Sounding seconds until the drill rests (common practice, no source); sooner in the first week. */
export const restAfter = (state: Pick<DrillState, 'firstWeek'>) => (state.firstWeek ? 20 : 30) * 60;

/** A sitting that has not begun. `firstWeek`: less than seven days since the first pass ever, or none yet. */
export function start(chart: ChartState, settings: DrillSettings, firstWeek: boolean): DrillState {
  return {
    settings,
    firstWeek,
    chart,
    run: 'idle',
    phase: 'idle',
    stopped: null,
    queue: [],
    begun: false,
    pending: [],
    held: [],
    last: null,
    gap: null,
    trial: false,
    pressedAt: -Infinity,
    sounded: 0,
    restedAt: 0,
    wall: null,
    wallFrom: { passes: 0, minutes: 0 },
    sign: null,
    ordered: 0,
  };
}

/**
 * One input at one moment. Pure: the state it is given is not changed; what is to be done outside
 * comes back as effects, in order. Passes that have ended by now are recorded first.
 */
export function next(
  state: DrillState,
  input: Input,
  now: Moment,
): { readonly state: DrillState; readonly effects: readonly Effect[] } {
  const turn: Turn = { state, effects: [], now };
  advance(turn);
  take(turn, input);
  if (turn.state.run === 'running') goOn(turn);
  set(turn, { phase: phaseOf(turn.state) });
  return { state: turn.state, effects: turn.effects };
}

function take(turn: Turn, input: Input): void {
  switch (input.type) {
    case 'tick':
      break;
    case 'begin':
      begin(turn, input.chart);
      break;
    case 'pause':
      if (turn.state.run !== 'running') break;
      record(turn, breakOff(turn, 'player'));
      set(turn, { run: 'paused' });
      break;
    case 'trial':
      set(turn, { trial: !turn.state.trial });
      break;
    case 'settings':
      set(turn, { settings: input.settings });
      break;
    case 'committed':
      committed(turn, input.chart);
      break;
    case 'changed':
      moved(turn, input.chart);
      break;
    case 'broke':
      broke(turn, input.reason);
      break;
    default:
      if (unheard(turn)) break;
      if (input.type === 'answer') answer(turn, input);
      // These speak of the chart as it will be in a moment.
      else if (turn.state.pending.length > 0) set(turn, { held: [...turn.state.held, input] });
      else steer(turn, input);
  }
}

/** Another stand writes, or nothing can be kept: no press may count. */
function unheard({ state }: Turn): boolean {
  return state.stopped === 'elsewhere' || state.stopped === 'not-kept';
}

function begin(turn: Turn, chart: ChartState): void {
  const { run, sounded, gap } = turn.state;
  if (run === 'running') return;
  if (run === 'wall') goOnAtWall(turn);
  if (run === 'rest') set(turn, { restedAt: sounded });
  set(turn, { run: 'running', stopped: null, wall: null, chart, gap: gap && { ...gap, onLines: false } });
}

function goOnAtWall(turn: Turn): void {
  const { passes, minutes } = turn.state.chart.tally;
  set(turn, { run: 'running', wall: null, wallFrom: { passes, minutes } });
}

function steer(turn: Turn, input: Steering): void {
  const { chart } = turn.state;
  switch (input.type) {
    case 'undo':
      if (chart.undo) record(turn, [{ type: 'undone', event: chart.undo.event }]);
      break;
    case 'repeat':
      move(turn, chart.step, 'repeat');
      break;
    case 'skip':
      move(turn, stepAfter(chart, 'skip'), 'skip');
      break;
    case 'back':
      move(turn, stepBefore(chart), 'back');
      break;
    case 'tempo': {
      const bpm = Math.min(FASTEST, Math.max(SLOWEST, Math.round(input.bpm)));
      if (chart.step && bpm !== chart.step.bpm) leaveFor(turn, { type: 'tempo', bpm, why: 'chosen' });
      break;
    }
    case 'choose':
      choose(turn, input.choice);
  }
}

function move(turn: Turn, to: Target | null, why: 'repeat' | 'skip' | 'back' | 'left-open' | 'half'): void {
  const plan = turn.state.chart.plan;
  if (!to || !plan) return;
  leaveFor(turn, { type: 'step', plan: plan.event, from: to.from, to: to.to, bpm: to.bpm, why });
}

/** Leaves the step for another; a pass that is on is broken off by the player, in the same record. */
function leaveFor(turn: Turn, body: EventBody): void {
  record(turn, [...breakOff(turn, 'player'), body]);
  set(turn, { last: null });
  if (turn.state.run === 'wall') set(turn, { run: 'running', wall: null });
}

function choose(turn: Turn, choice: WallChoice): void {
  const { wall, chart, run } = turn.state;
  if (run !== 'wall' || !wall || !chart.step) return;
  if (choice === 'go-on') goOnAtWall(turn);
  else if (choice === 'slower' && wall.slower !== null)
    leaveFor(turn, { type: 'tempo', bpm: wall.slower, why: 'slower' });
  else if (choice === 'half' && wall.half) move(turn, { ...wall.half, bpm: chart.step.bpm }, 'half');
  else if (choice === 'leave-open') move(turn, stepAfter(chart, 'left-open'), 'left-open');
}

function committed(turn: Turn, chart: ChartState): void {
  const [kept = [], ...pending] = turn.state.pending;
  const before = turn.state.chart;
  set(turn, { pending });
  moved(turn, chart);
  const { last } = turn.state;
  const isPass = (body: EventBody) => body.type === 'pass';
  if (last?.event === null && kept.some(isPass) && !pending.flat().some(isPass))
    set(turn, { last: { ...last, event: chart.lastPass?.event ?? null } });
  if (kept.some((body) => body.type === 'undone')) set(turn, { last: null });
  if (kept.some((body) => body.type === 'vouched' && body.verdict === 'clean'))
    set(turn, { sign: signOf(before, chart) ?? turn.state.sign });
  if (pending.length === 0) release(turn);
}

function signOf(before: ChartState, after: ChartState): Sign | null {
  if (after.finished && !before.finished) return 'goal';
  if (!before.step || !after.step || sameStep(before, after)) return null;
  return after.step.bpm > before.step.bpm ? 'rung' : 'step';
}

function sameStep(a: ChartState, b: ChartState): boolean {
  return (
    a.step?.from === b.step?.from &&
    a.step?.to === b.step?.to &&
    a.step?.bpm === b.step?.bpm &&
    a.plan?.event === b.plan?.event
  );
}

/** The chart as it is now. Passes of a step that is no longer the current one are not counted. */
function moved(turn: Turn, chart: ChartState): void {
  const changed = !sameStep(turn.state.chart, chart);
  set(turn, { chart });
  if (!changed) return;
  set(turn, { wallFrom: { passes: 0, minutes: 0 } });
  const { queue, begun } = turn.state;
  const laid = queue[0];
  if (!laid) return;
  cut(turn, begun ? turn.now.clock : after(laid.order.gapAt));
  // A pass cut in its middle leaves room to breathe like any other.
  if (begun) set(turn, { gap: { line: turn.now.clock, passBeats: laid.beats, fill: false, onLines: false } });
}

/** What was pressed while a record was under way. */
function release(turn: Turn): void {
  const [first, ...rest] = turn.state.held;
  if (!first) return;
  set(turn, { held: rest });
  if (first.type === 'answer') vouch(turn, first);
  else steer(turn, first);
  if (turn.state.pending.length === 0) release(turn);
}

function broke(turn: Turn, reason: StopReason): void {
  const lost = reason === 'not-kept' || reason === 'elsewhere';
  if (reason === 'hidden' && turn.state.run !== 'running') return;
  const bodies = breakOff(turn, 'machine');
  if (lost) set(turn, { pending: [], held: [] });
  else record(turn, bodies);
  set(turn, { run: 'stopped', stopped: reason, wall: null });
}

/** While it runs: is there a reason to stop? If not, the next pass goes on the clock. */
function goOn(turn: Turn): void {
  const { state } = turn;
  const { chart, begun, pending } = state;
  const settled = pending.length === 0 && !begun;
  if (settled && !chart.step) stop(turn, 'finished');
  else if (settled && !isAsking(state) && !isWaiting(state)) {
    if (atWall(state)) {
      stop(turn, 'wall');
      set(turn, { wall: wallOffer(chart) });
    } else if (state.sounded - state.restedAt >= restAfter(state)) stop(turn, 'rest');
  }
  if (turn.state.run === 'running') fill(turn);
}

function stop(turn: Turn, run: 'finished' | 'wall' | 'rest'): void {
  const first = turn.state.queue[0];
  if (first) cut(turn, after(first.order.gapAt));
  set(turn, { run, gap: turn.state.gap && { ...turn.state.gap, fill: false, onLines: false } });
}

function phaseOf(state: DrillState): Phase {
  if (state.run !== 'running') return state.run;
  if (state.queue.length > 0) return state.begun ? 'playing' : 'count-in';
  if (state.pending.length > 0) return 'gap';
  if (isWaiting(state)) return 'waiting';
  return isAsking(state) ? 'asking' : 'gap';
}
