import { signal, type ReadonlySignal } from '@preact/signals';
import type { PlacedBox, Plan } from '../../core/chart/types.ts';
import type { Heard, Session } from './session-types.ts';

/** What is lit at this moment: changes on a beat, not on a frame. */
export interface Light {
  /** Place of the route whose bar carries the strokes, and its beats. */
  readonly place: number;
  readonly beats: number;
  readonly beat: number;
  readonly countIn: boolean;
  readonly countdown: number | null;
  /** The next bar's first beat, pale: every pass lands. */
  readonly landing: boolean;
}

/** The place of the route that a bar of a span stands on; a seam runs on from the last into the first. */
export function placeOf(plan: Plan, from: number, bar: number): number {
  return (from + bar) % plan.bars.length;
}

/** The boxes of a span in order, the pickup first where the span starts with it. */
export function boxesOf(plan: Plan, from: number, to: number): readonly PlacedBox[] {
  const bars = Array.from(
    { length: to - from + 1 },
    (_, i) => plan.bars[placeOf(plan, from, i)]?.boxes ?? [],
  ).flat();
  return from === 0 && plan.pickup ? [...plan.pickup.boxes, ...bars] : bars;
}

/** Every box that stands on a line of the span, line after line: what the view brings in, as large as fits. */
export function linesOf(plan: Plan, from: number, to: number): readonly PlacedBox[] {
  const all = [...(plan.pickup?.boxes ?? []), ...plan.bars.flatMap((bar) => bar.boxes)];
  const lit = boxesOf(plan, from, to);
  const sameLine = (a: PlacedBox, b: PlacedBox) =>
    a.page === b.page && a.box[1] === b.box[1] && a.box[3] === b.box[3];
  const lines = lit.filter((box, i) => lit.findIndex((other) => sameLine(box, other)) === i);
  return lines.flatMap((line) => all.filter((box) => sameLine(line, box)));
}

/** Where the light falls for what is heard. */
export function lightOf(plan: Plan, heard: Heard): Light {
  const inSpan = Math.max(0, heard.bar);
  return {
    place: placeOf(plan, heard.order.from, inSpan),
    beats: heard.beats,
    beat: heard.beat,
    countIn: heard.bar < 0,
    countdown: heard.countdown,
    landing: heard.landing,
  };
}

function same(a: Light | null, b: Light | null): boolean {
  if (a === null || b === null) return a === b;
  return (
    a.place === b.place &&
    a.beat === b.beat &&
    a.countIn === b.countIn &&
    a.countdown === b.countdown &&
    a.landing === b.landing
  );
}

/** Length of a frame until it has been seen, s. */
const FRAME = 1 / 60;

/**
 * Follows what is heard, once a frame, until `stop`. The signal changes only when the beat does. What a frame
 * draws is seen when it is over, a frame later: so it shows what is heard by then.
 */
export function followLight(
  session: Session,
  plan: () => Plan | null,
  stop: AbortSignal,
): ReadonlySignal<Light | null> {
  const light = signal<Light | null>(null);
  let before = 0;
  let length = FRAME;
  const frame = (time: number) => {
    if (stop.aborted) return;
    // A busy machine skips frames: the shortest of late is the screen's own.
    length = Math.min(Math.max(0.001, (time - before) / 1000), 1.05 * length, 2 * FRAME);
    before = time;
    const heard = session.heard(length);
    const now = plan();
    const next = heard && now ? lightOf(now, heard) : null;
    if (!same(light.peek(), next)) light.value = next;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
  return light;
}
