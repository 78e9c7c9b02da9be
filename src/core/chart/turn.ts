import { mendOrder } from './by-hand.ts';
import { isLooseLine, Refused } from './edit-shape.ts';
import { removeSystem } from './edit-systems.ts';
import type { Marks, Turn, Turns } from './types.ts';
import { withVersion } from './version.ts';

export const NOT_TURNED: Turns = { pages: {}, rest: 0 };

/** How far a chart's pages are turned before anything is placed on them. */
export const turnsOf = (marks: Marks | null | undefined): Turns =>
  marks ? { pages: marks.turns ?? {}, rest: marks.turn ?? 0 } : NOT_TURNED;

/** How far one page, from 0, is turned. */
export const turnOn = ({ pages, rest }: Turns, page: number): Turn => pages[page] ?? rest;

/** The same with one page turned so far. */
export function turnsWith({ pages, rest }: Turns, page: number, turn: Turn): Turns {
  const { [page]: was, ...others } = pages;
  return { rest, pages: turn === rest ? others : { ...others, [page]: turn } };
}

export const sameTurns = (a: Turns, b: Turns): boolean =>
  a.rest === b.rest &&
  Object.keys({ ...a.pages, ...b.pages }).every(
    (page) => turnOn(a, Number(page)) === turnOn(b, Number(page)),
  );

/** The same marks on pages that are turned so far; nothing is moved. */
export function withTurns(marks: Marks, { pages, rest }: Turns): Marks {
  const { turn, turns, ...plain } = marks;
  return withVersion({
    ...plain,
    ...(rest !== 0 && { turn: rest }),
    ...(Object.keys(pages).length > 0 && { turns: pages }),
  });
}

/** Lines that stand on pages lying as in `turns`: places on a page that lies otherwise cannot be compared. */
export const linesLying = (marks: Marks, turns: Turns): Marks['systems'] =>
  marks.systems.filter(({ page }) => turnOn(turnsOf(marks), page) === turnOn(turns, page));

/** Whether the player has marked nothing on a page: it can still be turned. */
export const isLoose = (marks: Marks, page: number): boolean =>
  marks.systems.every((system) => system.page !== page || isLooseLine(system));

/**
 * Turns a page, from 0, that was scanned lying on its side by a quarter, clockwise. What was found on it as it lay is
 * dropped, to be found anew; other pages stay as they are.
 * @throws Refused when the player has marked anything on it: lines and bars do not turn with the page
 */
export function turnPage(marks: Marks, page: number): Marks {
  if (!isLoose(marks, page)) throw new Refused('own-bars');
  const lines = marks.systems.filter((system) => system.page === page);
  const rest = lines.reduce((left, { id }) => removeSystem(left, id), marks);
  const turns = turnsOf(marks);
  const turn = ((turnOn(turns, page) + 90) % 360) as Turn;
  return withTurns(mendOrder(marks, rest), turnsWith(turns, page, turn));
}
