import type { PassKind } from '../log/events.ts';
import { lay } from './layout.ts';
import { set, type DrillState, type Laid, type Turn } from './state.ts';

/** Just after a bar line, so that the click on the line itself is kept: more than a sample away. */
export const after = (line: number) => line + 0.001;

/** Places of the rope that are taken. */
export function knotsOf(state: DrillState): number {
  return state.chart.knots.filter((knot) => knot.tie !== 'gap').length;
}

/** Every place is taken and one of the knots is loose: the rope wants a press. */
export function isWaiting({ chart, ...state }: DrillState): boolean {
  return (
    chart.step !== null &&
    knotsOf({ chart, ...state }) >= chart.step.streak &&
    chart.knots.some((knot) => knot.tie === 'loose')
  );
}

/** One at a time: the pass is over and nobody has answered for it. */
export function isAsking({ settings, last }: DrillState): boolean {
  return settings.mode === 'one-at-a-time' && last?.verdict === 'unanswered' && last.kind !== 'trial';
}

/** Places taken once all that is under way has been kept; null when the step may change by it. */
function presumedKnots(state: DrillState): number | null {
  let knots = knotsOf(state);
  for (const body of state.pending.flat()) {
    if (body.type === 'pass') {
      if (body.kind === 'trial') continue;
      if (body.verdict === 'slip') knots = 0;
      else if (body.verdict === 'clean') knots++;
    } else if (body.type === 'vouched' && body.verdict === 'slip') knots = 0;
    else if (body.type !== 'vouched' || knots >= (state.chart.step?.streak ?? 0)) return null;
  }
  return knots;
}

/** How many passes may be on the clock: none past the Nth place, one ahead in rolling. */
function room(state: DrillState): number {
  const { chart, settings, queue } = state;
  const knots = presumedKnots(state);
  if (state.run !== 'running' || !chart.step || !chart.plan || knots === null) return 0;
  if (isAsking(state)) return 0;
  const most = settings.mode === 'rolling' ? 2 : 1;
  const trials = queue.filter(({ order }) => order.kind === 'trial').length;
  const trialToCome = state.trial && trials === 0 ? 1 : 0;
  return Math.min(most, Math.max(0, chart.step.streak - knots) + trials + trialToCome);
}

/** What the passes that have not begun will be: a trial if asked for, the first after a pause a cold one. */
function kinds({ begun, queue, trial, chart, pending }: DrillState): PassKind[] {
  const first = begun ? queue[0]!.order.kind : null;
  const kept = !pending.flat().some((body) => body.type === 'pass');
  const ahead: PassKind[] = [
    ...(trial ? (['trial'] as const) : []),
    ...(chart.cold && kept && first !== 'cold' ? (['cold'] as const) : []),
    'drill',
    'drill',
  ];
  return [...(first ? [first] : []), ...ahead];
}

function relabel(turn: Turn): void {
  const wanted = kinds(turn.state);
  set(turn, {
    queue: turn.state.queue.map((laid, i) => ({ ...laid, order: { ...laid.order, kind: wanted[i]! } })),
  });
}

/** Takes passes off the clock so that `keep` are left. Their landings before stay. */
export function drop(turn: Turn, keep: number): void {
  const gone = turn.state.queue[keep];
  if (!gone) return;
  set(turn, { queue: turn.state.queue.slice(0, keep), begun: keep > 0 && turn.state.begun });
  turn.effects.push({ type: 'cancel', from: Math.max(turn.now.clock, after(gone.order.gapAt)) });
}

/** Takes everything off the clock that would sound from `from` on. */
export function cut(turn: Turn, from: number): void {
  if (turn.state.queue.length === 0) return;
  set(turn, { queue: [], begun: false });
  turn.effects.push({ type: 'cancel', from: Math.max(turn.now.clock, from) });
}

/** Lays as many passes as there is room for, and takes back those for which there is none. */
export function fill(turn: Turn): void {
  relabel(turn);
  const least = turn.state.begun ? 1 : 0;
  while (turn.state.queue.length > Math.max(least, room(turn.state))) {
    drop(turn, turn.state.queue.length - 1);
    relabel(turn);
  }
  while (turn.state.queue.length < room(turn.state)) append(turn);
}

function append(turn: Turn): void {
  const { chart, settings, queue, ordered } = turn.state;
  const before: Laid | undefined = queue.at(-1);
  const laid = lay({
    plan: chart.plan!.plan,
    step: chart.step!,
    settings,
    kind: kinds(turn.state)[queue.length]!,
    id: `pass-${ordered + 1}`,
    clock: turn.now.clock,
    gap: before
      ? { line: before.order.endAt, passBeats: before.beats, fill: false, onLines: true }
      : turn.state.gap,
  });
  set(turn, { queue: [...queue, laid], ordered: ordered + 1 });
  turn.effects.push({ type: 'schedule', order: laid.order, timeline: laid.timeline });
}
