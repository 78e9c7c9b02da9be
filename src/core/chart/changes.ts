/** What one state of the marks has that another has not, bar by bar, so that a player can look at each. */
import type { Bar, BarId, Marks, PageBox } from './types.ts';

export interface Change {
  readonly what: 'new' | 'gone' | 'changed';
  /** The bar as it is now; null when it is gone. */
  readonly bar: BarId | null;
  /** Where it is, or was. */
  readonly page: number;
  readonly box: PageBox;
}

interface Placed {
  readonly bar: Bar;
  readonly page: number;
  readonly box: PageBox;
}

const placesIn = (marks: Marks): Placed[] =>
  marks.systems.flatMap(({ page, top, bottom, bars }) =>
    bars.map((bar) => ({ bar, page, box: [bar.x0, top, bar.x1, bottom] })),
  );

/** Boxes that differ by less are the same to the eye, fractions of the page. */
const SEEN = 0.002;

function isSame(a: Placed, b: Placed): boolean {
  if (a.page !== b.page || a.box.some((value, i) => Math.abs(value - b.box[i]!) > SEEN)) return false;
  const said = ({ bar: { x0, x1, found, id, was, ...rest } }: Placed) =>
    JSON.stringify(Object.entries(rest).sort(([p], [q]) => (p < q ? -1 : 1)));
  return said(a) === said(b);
}

/** In reading order; what is gone stands where it was. How sure the finder was is no change. */
export function changesBetween(before: Marks, after: Marks): Change[] {
  const [old, now] = [placesIn(before), placesIn(after)];
  const was = new Map(old.map((place) => [place.bar.id, place]));
  const is = new Set(now.map(({ bar }) => bar.id));
  const gone = old
    .filter(({ bar }) => !is.has(bar.id))
    .map(({ page, box }): Change => ({ what: 'gone', bar: null, page, box }));
  const here = now.flatMap(({ bar, page, box }): Change[] => {
    const one = was.get(bar.id);
    if (one && isSame(one, { bar, page, box })) return [];
    return [{ what: one ? 'changed' : 'new', bar: bar.id, page, box }];
  });
  return [...gone, ...here].sort((a, b) => a.page - b.page || a.box[1] - b.box[1] || a.box[0] - b.box[0]);
}
