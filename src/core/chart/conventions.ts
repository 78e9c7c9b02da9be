/**
 * How the signs of the form are read. Sources: MusicXML 4.0 (W3C Music Notation Community Group, 2021),
 * the elements `sound`, `repeat`, `ending` and `multiple-rest` of its documentation; where it leaves a thing
 * open, common practice (no source).
 *
 * - D.C. leads to the beginning, D.S. to the segno, "to coda" to the coda (`sound`: dacapo, dalsegno, tocoda).
 * - D.C. and D.S. are taken the first time they are reached, "to coda" the second (`sound`: "By default, a
 *   dalsegno or dacapo attribute indicates that the jump should occur the first time through, while a tocoda
 *   attribute indicates the jump should occur the second time through"). So no jump is taken twice, and the
 *   route ends.
 * - Fine is the end of a tune with a D.C. or D.S. (`sound`: fine "follows the final note or rest in a movement
 *   with a da capo or dal segno direction"): it is passed over until one has been taken.
 * - "al Fine" passes over "to coda", "al Coda" passes over every Fine before the coda; a bare D.C. or D.S. heeds
 *   whichever comes first, since MusicXML does not tell them apart.
 * - Whether repeats are taken after a jump is said for each (`repeat`: after-jump); unsaid, they are not (common
 *   practice, no source), and first endings are skipped ("Traditionally, musicians skip over any first endings
 *   after they go back for a D.C. (or D.S.)", Music Theory Fundamentals, 1.8). Music not heard before, such as a
 *   coda, has its repeats.
 * - A Fine inside a repeat, in a tune without any D.C. or D.S., ends it the last time (LilyPond 2.26, Notation
 *   Reference, "Al-fine repeats").
 * - A D.C. or D.S. inside a repeat waits for its last time; with several choruses the coda waits for the last
 *   one (common practice, no source).
 * - A repeat without a start goes back to the end of the repeat before it, to the coda, or to the beginning
 *   (`sound`: forward-repeat, "a forward repeat sign is implied but not displayed").
 * - A multi-bar rest is so many bars (`multiple-rest`: "the number of measures in the multiple rest").
 */
import type { Conventions } from './types.ts';

/** Most times that a passage sounds, bars of one multi-bar rest, choruses in a row, stretches of an order by hand. */
export const MAX_TIMES = 99;
export const MAX_REST = 99;
export const MAX_CHORUSES = 32;
export const MAX_STRETCHES = 500;

/** What holds where a chart says nothing else. */
export const usualConventions: Conventions = {
  repeatsAfterJump: false,
  endingAfterJump: 'last',
  jumpAfterRepeats: true,
  fineAtOnce: false,
  codaAtOnce: false,
  codaLastChorus: true,
};
