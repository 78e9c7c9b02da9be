import type { BarEdge } from '../../core/beat/types.ts';
import type { Laid } from '../../core/drill/state.ts';
import type { Heard } from './session-types.ts';

/**
 * What sounds at `time` (audio-clock seconds): the landing of the pass that is over, else the pass that is on.
 * The first of `queue` is over as soon as its last bar line is heard, whether or not the machine has looked since.
 */
export function heardOf(queue: readonly Laid[], over: Laid | null, time: number): Heard | null {
  const [first = null, second = null] = queue;
  const ended = first !== null && time >= first.order.endAt;
  const on = ended ? second : first;
  return landing(on, ended ? first : over, time) ?? (on && passing(on, time));
}

const beatSeconds = ({ from, to, beats }: BarEdge) => (to - from) / beats;

/** The first beat after the last bar line still belongs to the pass: a last note may be held into it. */
function landing(on: Laid | null, over: Laid | null, time: number): Heard | null {
  const last = over?.timeline.bars.at(-1);
  if (!over || !last) return null;
  const phase = (time - over.order.endAt) / beatSeconds(last);
  if (phase < 0 || phase >= 1) return null;
  const { order, timeline } = over;
  const bar = timeline.bars.length;
  const countdown = on ? countdownOf(on, time) : null;
  return { order, timeline, bar, beat: 0, phase, beats: last.beats, countdown, landing: true };
}

function passing(laid: Laid, time: number): Heard | null {
  const { order, timeline } = laid;
  const at = time - order.countInAt;
  const place = at < timeline.start ? before(timeline.bars[0]!, at) : within(timeline.bars, at);
  return place && { order, timeline, ...place, countdown: countdownOf(laid, time), landing: false };
}

/** Bars of the gap count backwards from the first bar line, each as long as the span's first. */
function before(first: BarEdge, at: number) {
  const length = first.to - first.from;
  const bar = Math.floor((at - first.from) / length);
  return { bar, ...beatIn(at - first.from - bar * length, first) };
}

function within(bars: readonly BarEdge[], at: number) {
  const bar = bars.findIndex(({ to }) => at < to);
  const edge = bars[bar];
  return edge ? { bar, ...beatIn(at - edge.from, edge) } : null;
}

function beatIn(seconds: number, edge: BarEdge) {
  const position = Math.max(0, seconds / beatSeconds(edge));
  const beat = Math.min(Math.floor(position), Math.ceil(edge.beats) - 1);
  return { beat, phase: Math.min(1, position - beat), beats: edge.beats };
}

function countdownOf({ order, timeline }: Laid, time: number): number | null {
  const at = time - order.countInAt;
  if (at < 0) return null;
  if (at >= timeline.start) return 0;
  return timeline.clicks.filter((click) => click.countIn && click.at > at).length + 1;
}
