import type { EventBody, Judge, PassBody, Verdict } from '../log/events.ts';
import { after, cut } from './queue.ts';
import { set, type Laid, type Turn } from './state.ts';

/** Hands events to the log; nothing is shown of them before `committed`. */
export function record(turn: Turn, bodies: readonly EventBody[]): void {
  if (bodies.length === 0) return;
  set(turn, { pending: [...turn.state.pending, bodies] });
  turn.effects.push({ type: 'record', bodies });
}

function bodyOf(
  turn: Turn,
  { order }: Laid,
  seconds: number,
  answer: { readonly verdict: Verdict; readonly by: Judge; readonly brokenBy?: 'player' | 'machine' },
): PassBody {
  const { event, plan } = turn.state.chart.plan!;
  const { from, to, bpm, kind } = order;
  // The tempo counts the chart's first unit, whatever bar the span starts with.
  const unit = plan.bars[0]!.unit;
  const beat = Math.round(((seconds * bpm) / 60) * 100) / 100;
  const slips = answer.verdict === 'slip' && answer.by !== 'nobody' ? [{ beat }] : [];
  return { type: 'pass', plan: event, from, to, bpm, unit, seconds, kind, slips, ...answer };
}

/** Passes begin and end by what is heard, each in its turn, however late we hear of it. */
export function advance(turn: Turn): void {
  for (;;) {
    const laid = turn.state.queue[0];
    if (!laid) return;
    const { order } = laid;
    if (!turn.state.begun && turn.now.heard >= order.startAt) {
      set(turn, { begun: true, sign: null, trial: turn.state.trial && order.kind !== 'trial' });
    }
    if (turn.now.heard < order.endAt) return;
    finish(turn, laid);
  }
}

/** The last bar line: a pass that nobody answered is clean, said by nobody. */
function finish(turn: Turn, laid: Laid): void {
  const { order, beats } = laid;
  set(turn, {
    queue: turn.state.queue.slice(1),
    begun: false,
    sounded: turn.state.sounded + order.endAt - order.countInAt,
    last: { kind: order.kind, verdict: 'unanswered', event: null },
    gap: { line: order.endAt, passBeats: beats, fill: false, onLines: true },
  });
  record(turn, [bodyOf(turn, laid, order.endAt - order.startAt, { verdict: 'clean', by: 'nobody' })]);
}

/** A slip in mid-pass ends it at once; the next count-in starts on the next bar line. */
export function slipNow(turn: Turn, by: Judge): void {
  const laid = turn.state.queue[0]!;
  const { order, timeline, beats } = laid;
  const seconds = turn.now.heard - order.startAt;
  const bar = timeline.bars.find(({ to }) => order.countInAt + to > turn.now.heard);
  const line = order.countInAt + (bar?.to ?? timeline.end);
  cut(turn, after(line));
  set(turn, {
    sounded: turn.state.sounded + turn.now.heard - order.countInAt,
    last: { kind: order.kind, verdict: 'slip', event: null },
    gap: { line, passBeats: beats, fill: true, onLines: true },
  });
  record(turn, [bodyOf(turn, laid, seconds, { verdict: 'slip', by })]);
}

/**
 * Stops the sound. Before the first beat that costs nothing. After it the pass is void if the
 * machine broke it or the streak still has its one void, else a slip; a trial is forgotten.
 * Answers the event to be recorded, if any.
 */
export function breakOff(turn: Turn, by: 'player' | 'machine'): PassBody[] {
  const { queue, begun, gap, chart, pending } = turn.state;
  const laid = queue[0];
  const { heard, clock } = turn.now;
  set(turn, { gap: gap && { ...gap, fill: false, onLines: false } });
  if (!laid) return [];
  cut(turn, clock);
  set(turn, { sounded: turn.state.sounded + Math.max(0, heard - laid.order.countInAt) });
  if (!begun) return [];
  set(turn, { last: null, gap: { line: heard, passBeats: laid.beats, fill: false, onLines: false } });
  if (laid.order.kind === 'trial') return [];
  const spent = chart.voidSpent || pending.flat().some((b) => b.type === 'pass' && b.brokenBy === 'player');
  const answer =
    by === 'player' && spent
      ? ({ verdict: 'slip', by: 'nobody' } as const)
      : ({ verdict: 'void', by: 'nobody', brokenBy: by } as const);
  return [bodyOf(turn, laid, heard - laid.order.startAt, answer)];
}
