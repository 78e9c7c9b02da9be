import { barsOf, Refused } from './edit-shape.ts';
import type { Marks, Turn } from './types.ts';
import { withVersion } from './version.ts';

/** How far a chart's pages are turned before anything is placed on them. */
export const turnOf = (marks: Marks | null | undefined): Turn => marks?.turn ?? 0;

/** The same marks on pages that are turned so far; nothing is moved. */
export function withTurn(marks: Marks, turn: Turn): Marks {
  const { turn: was, ...rest } = marks;
  return withVersion(turn === 0 ? rest : { ...rest, turn });
}

/**
 * Turns pages that were scanned lying on their side by a quarter, clockwise. What was found on them as they lay
 * is dropped, to be found anew.
 * @throws Refused when the player has marked anything: lines and bars do not turn with the page
 */
export function turnPages(marks: Marks): Marks {
  if (barsOf(marks).some(({ found }) => found === undefined)) throw new Refused('own-bars');
  const { byHand, ...rest } = marks;
  return withTurn({ ...rest, systems: [] }, ((turnOf(marks) + 90) % 360) as Turn);
}
