import { TWO_STAVES } from '../chart/reach.ts';
import type { PlacedBox } from '../chart/types.ts';

/** Width and height of a page or a window, CSS px; of a page at 100 %. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Height of a printed staff: LilyPond, Notation Reference 4.2.2, default staff size 20 pt = 7.03 mm. */
const PRINTED_STAFF_MM = 7;
/** From the eye to a page on a music stand: common practice, no source. */
const READING_MM = 700;
/** CSS Values and Units 4, section 6.2: 96 px are an inch. What a screen makes of it, no page can know. */
const PX_PER_MM = 96 / 25.4;

/**
 * The least height of a staff, CSS px, for it to look from so many metres away as large as print does on a
 * music stand: the same visual angle, 7 mm at 70 cm or 0.01 rad. 20 mm at two metres.
 */
export function leastStaff(metres: number): number {
  return metres * 1000 * (PRINTED_STAFF_MM / READING_MM) * PX_PER_MM;
}

/**
 * A single staff is no higher than this share of the longer side of its page (14 mm on A4): a higher system has several.
 * Chosen by eye; marks know only the top line and the bottom line of a system.
 */
const HIGHEST_STAFF = 0.048;

/** Height of one staff of the line that a box stands on, CSS px of the page at 100 %. */
export function staffHeight({ page, box, lean = 0 }: PlacedBox, pages: readonly Size[]): number {
  const { width, height } = pages[page]!;
  const high = (box[3] - box[1] - Math.abs(lean)) * height;
  return high > HIGHEST_STAFF * Math.max(width, height) ? high / TWO_STAVES : high;
}
