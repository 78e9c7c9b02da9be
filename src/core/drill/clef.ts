/** Staff heights from the start of a line that are looked at for its clef and key signature. */
export const CLEF_LOOK = 4;
/**
 * White this wide, in staff spaces, ends the clef and its signatures: LilyPond sets clef, key and time signature
 * 0.8 to 1.2 spaces apart and 2 or more before the first note; other engravers are close to it.
 */
const WIDE = 1.5;
/** Of that white so much is kept, in staff spaces. */
const KEPT = 0.75;
/** Anything narrower than this, in staff spaces, is a bar line or a bracket at the edge, or a speck. */
const SPECK = 0.5;
/** How much more ink than the bare staff makes a column one of a sign, in staff heights. */
const SIGN = 0.08;

/**
 * Where the clef and the key signature of a line end, so that no sign is cut through.
 * @param ink of each column from the line's start on, as a share of the staff's height (1: black from the top
 * line to the bottom line)
 * @param staff height of the staff in columns
 * @returns columns from the line's start; null where no end is seen
 */
export function clefEnd(ink: readonly number[], staff: number): number | null {
  const space = staff / 4;
  const bare = [...ink].sort((a, b) => a - b)[Math.floor(ink.length / 5)] ?? 0;
  let signs = false;
  let start = 0;
  for (let x = 0; x <= ink.length; x++) {
    if (x < ink.length && ink[x]! > bare + SIGN) continue;
    // A run of columns with a sign has ended; what follows is white until the next.
    if (x - start >= SPECK * space) signs = true;
    let next = x;
    while (next < ink.length && ink[next]! <= bare + SIGN) next++;
    if (signs && next - x >= WIDE * space) return x + Math.min((next - x) / 2, KEPT * space);
    start = next;
    x = next;
  }
  return null;
}
