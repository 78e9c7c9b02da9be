import type { EventId } from '../log/events.ts';
import { isWaiting } from './queue.ts';
import { record, slipNow } from './pass.ts';
import { set, type DrillState, type Turn } from './state.ts';
import type { Answer } from './types.ts';

/** A second press within so many milliseconds is the same press. */
const SAME_PRESS = 400;

/** A verdict press, wherever the sitting is. */
export function answer(turn: Turn, given: Answer): void {
  const { state, now } = turn;
  if (now.ms - state.pressedAt < SAME_PRESS) return;
  set(turn, { pressedAt: now.ms });
  if (state.begun && given.verdict === 'slip') slipNow(turn, given.by);
  else if (state.pending.length > 0) hold(turn, given);
  else vouch(turn, given);
}

function hold(turn: Turn, { verdict, by }: Answer): void {
  set(turn, { held: [...turn.state.held, { type: 'answer', verdict, by }] });
}

/** Answers for passes that are over: clean for every loose knot, slip for the last one. */
export function vouch(turn: Turn, { verdict, by }: Answer): void {
  const { last, chart } = turn.state;
  const passes =
    verdict === 'slip'
      ? slippable(turn.state)
      : chart.knots.filter((knot) => knot.tie === 'loose').map((knot) => knot.pass);
  if (last?.verdict === 'unanswered' || (last && verdict === 'slip'))
    set(turn, { last: { ...last, verdict } });
  if (passes.length > 0) record(turn, [{ type: 'vouched', passes, verdict, by }]);
}

/** The pass that a slip between two passes speaks of, unless it has been one already. */
function slippable(state: DrillState): EventId[] {
  const { last, chart } = state;
  if (last)
    return last.event === null || last.kind === 'trial' || last.verdict === 'slip' ? [] : [last.event];
  const newest = chart.knots.filter((knot) => knot.tie === 'loose').at(-1);
  return newest && isWaiting(state) ? [newest.pass] : [];
}
