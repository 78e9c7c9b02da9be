import { contradictionOf, routeFrom, type Bar, type Marks } from '../../chart/index.ts';

/** A bar whose signs were left out is at most this sure: the player is asked about it first. */
const LEFT_OUT = 0.8;

type Taken = (bar: Bar) => Bar;

/** What asks for a jump, and where it goes. */
const withoutJumps: Taken = ({ segno, coda, toCoda, fine, jump, ...bar }) =>
  segno || coda || toCoda || fine || jump ? asked(bar) : bar;

const withoutEnding: Taken = ({ ending, ...bar }) => (ending ? asked(bar) : bar);

const asked = (bar: Bar): Bar => ({ ...bar, found: Math.min(bar.found ?? 1, LEFT_OUT) });

/**
 * Marks that can be played at once. On a scan not every sign is read, and what is read may ask for one that was not:
 * a jump without its segno, a second ending without a first. Such signs are left out, and their bars shown to the
 * player first; a jump that is missing is marked by one press, but a chart that contradicts itself cannot begin.
 */
export function playable(marks: Marks): Marks {
  let left = marks;
  for (const taken of [withoutJumps, withoutEnding]) {
    if (!contradictionOf(routeFrom(left).problems)) return left;
    left = { ...left, systems: left.systems.map((system) => ({ ...system, bars: system.bars.map(taken) })) };
  }
  return left;
}
