/** Staves that were seen in pieces, as their middle is too crowded. */
import type { Darkness } from './darkness.ts';
import { laneOf, type Lane } from './lanes.ts';
import type { Track } from './tracks.ts';

/** Pieces of one staff go on from each other within so many spaces; their spaces differ by so small a share. */
const AT = 0.5;
const ALIKE = 0.1;

/** A lane with the track that it was found by. */
export interface Tracked {
  readonly lane: Lane;
  readonly track: Track;
}

/** The pieces of a staff as one where its lines run through between them; a line of music may be set in two parts. */
export function wholeOf(
  pieces: readonly Tracked[],
  page: Darkness,
  strip: number,
  reach: number,
): readonly Tracked[] {
  for (const left of pieces)
    for (const right of pieces) {
      if (!goesOn(left.lane, right.lane)) continue;
      const track = [...left.track, ...right.track].sort((a, b) => a.strip - b.strip);
      const lane = laneOf(page, track, strip, reach);
      const { space } = left.lane;
      if (lane === null || lane.x0 > left.lane.x0 + space || lane.x1 < right.lane.x1 - space) continue;
      const others = pieces.filter((one) => one !== left && one !== right);
      return wholeOf([...others, { lane, track }], page, strip, reach);
    }
  return pieces;
}

function goesOn(left: Lane, right: Lane): boolean {
  if (left.x1 > right.x0 || Math.abs(left.space / right.space - 1) > ALIKE) return false;
  const x = Math.round((left.x1 + right.x0) / 2);
  return Math.abs(left.centre[x]! - right.centre[x]!) < AT * left.space;
}
