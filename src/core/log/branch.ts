/**
 * Two machines may write from the same point. A streak goes on only where `after` leads back to its own
 * last pass: the branch whose practice comes last in log order shows, and each goes on from its own knots.
 */
import type { LogEvent } from './events.ts';
import type { Inner } from './inner.ts';
import { settle } from './climb.ts';
import { copyOf, slip, type Streak } from './rope.ts';

/** Ends of sittings that a concurrent writer may go on from; older ones start a new streak. */
const POINTS = 8;

/** Remembers where a sitting ended. */
export function markPoint(f: Inner): void {
  if (f.tip !== null && f.points.at(-1)?.tip !== f.tip)
    f.points = [...f.points.slice(1 - POINTS), { tip: f.tip, live: f.live && copyOf(f.live) }];
}

function truncated(live: Streak | null, after: string | null): Streak | null {
  const at = live?.knots.findIndex((knot) => knot.pass === after) ?? -1;
  return live && at >= 0 ? { ...copyOf(live), knots: live.knots.slice(0, at + 1) } : null;
}

/**
 * Follows `after`. Practice that does not go on from the showing branch becomes the showing one;
 * anything else written apart is only remembered, so that naming a chart elsewhere cuts no rope.
 */
export function follow(f: Inner, event: LogEvent, practice: boolean): void {
  if (event.after === f.tip) {
    f.tip = event.id;
    return;
  }
  const point = f.points.find(({ tip }) => tip === event.after);
  const live = point ? point.live : truncated(f.live, event.after);
  if (!practice) {
    f.points = [...f.points.slice(1 - POINTS), { tip: event.id, live }];
    return;
  }
  markPoint(f);
  f.tip = event.id;
  if (live === null && f.live) {
    // Nothing to go on from: the same step, an empty rope.
    slip(f.live);
  } else f.live = live && copyOf(live);
  settle(f);
}
