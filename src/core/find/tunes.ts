/** The tunes that a file holds, as its pages tell: where each begins and ends, and what it is called. */
import type { FoundPage, FoundSign } from './types.ts';

/** What a page says of tunes: small enough to be kept and read for every page of a book. */
export interface PageBrief {
  /** From 0. */
  readonly page: number;
  /** Its lines of music: how many bars but pickups, the bar line at the end, and whether a meter is there. */
  readonly lines: readonly { readonly bars: number; readonly right: string; readonly meter: boolean }[];
  /** Titles over its lines, by the line's index. */
  readonly titles: readonly { readonly line: number; readonly text: string }[];
}

/** A line of music in a file: its page, and its index on it. */
export interface LineAt {
  readonly page: number;
  readonly line: number;
}

export interface TuneInFile {
  /** As printed; null where none could be read. */
  readonly title: string | null;
  readonly from: LineAt;
  /** Its last line. */
  readonly to: LineAt;
  readonly bars: number;
}

/** A title read with less may be any words over a line. */
export const TITLE_SURE = 0.9;

/** Bar lines that a tune can end with. */
const ENDS: ReadonlySet<string> = new Set(['final', 'repeat-end', 'double']);

/**
 * A tune can begin after a line that ends in this bar line, or at the top of a page, where none is known; a title is
 * looked for there alone.
 */
export const mayBegin = (before: string | undefined): boolean => before === undefined || ENDS.has(before);

/** The title over the line whose first bar is this one, however sure; a title says which bar it stands over. */
export const titleOver = (signs: readonly FoundSign[], firstBar: number): FoundSign | undefined =>
  signs.find(({ kind, bar, text }) => kind === 'title' && bar === firstBar && text !== undefined);

export function briefOf({ page, systems, signs }: FoundPage): PageBrief {
  const lines = systems.map(({ bars }) => ({
    bars: bars.filter(({ continues, pickup }) => !continues && !pickup).length,
    right: bars.at(-1)?.right ?? 'none',
    meter: bars[0]?.meter !== undefined,
  }));
  const titles = systems.flatMap((_, line) => {
    const title = titleOver(signs, barsBefore(systems, line));
    return title !== undefined && title.sure >= TITLE_SURE ? [{ line, text: title.text! }] : [];
  });
  return { page, lines, titles };
}

const barsBefore = (systems: FoundPage['systems'], line: number) =>
  systems.slice(0, line).reduce((sum, { bars }) => sum + bars.length, 0);

/**
 * Tunes in reading order. A tune begins where the line before has ended one, a title stands over the line, and the
 * line says its meter, as the first line of a tune does and a trio or a coda does not (common practice, no source).
 * Where that is not seen, lines stay together: to part them is one gesture. Pages without music belong to no tune.
 */
export const tunesOn = (briefs: readonly PageBrief[]): TuneInFile[] => parted(briefs, () => false);

/**
 * The same of a book, in which a tune also begins at the head of a page after a final bar line, as titles of scans
 * are not read, and after a page without music. Pages may be missing at the end, then the last tune may go on.
 */
export const tunesIn = (briefs: readonly PageBrief[]): TuneInFile[] =>
  parted(
    briefs,
    ({ page, line }, last, before) => page - last.to.page > 1 || (line === 0 && before === 'final'),
  );

function parted(
  briefs: readonly PageBrief[],
  beginsToo: (at: LineAt, last: TuneInFile, before: string) => boolean,
): TuneInFile[] {
  const tunes: TuneInFile[] = [];
  let before = 'none';
  for (const { page, lines, titles } of [...briefs].sort((a, b) => a.page - b.page))
    for (const [line, { bars, right, meter }] of lines.entries()) {
      const title = titles.find((one) => one.line === line)?.text ?? null;
      const last = tunes.at(-1);
      const at = { page, line };
      const begins =
        last === undefined || (title !== null && meter && mayBegin(before)) || beginsToo(at, last, before);
      if (begins) tunes.push({ title, from: at, to: at, bars });
      else tunes[tunes.length - 1] = { ...last, to: at, bars: last.bars + bars };
      before = right;
    }
  return tunes;
}

/** The pages of a tune with its own lines alone; `pages` hold at least those. */
export function pagesOfTune(pages: readonly FoundPage[], { from, to }: TuneInFile): FoundPage[] {
  return pages
    .filter(({ page }) => page >= from.page && page <= to.page)
    .sort((a, b) => a.page - b.page)
    .map((page) =>
      partOf(
        page,
        page.page === from.page ? from.line : 0,
        page.page === to.page ? to.line + 1 : page.systems.length,
      ),
    );
}

/** Some systems of a page with the signs that belong to them, as if there were no others. */
function partOf(page: FoundPage, from: number, to: number): FoundPage {
  if (from === 0 && to === page.systems.length) return page;
  const [first, last] = [barsBefore(page.systems, from), barsBefore(page.systems, to)];
  const signs = page.signs
    .filter(({ bar }) => bar >= first && bar < last)
    .map((sign) => ({ ...sign, bar: sign.bar - first }));
  return { ...page, systems: page.systems.slice(from, to), signs };
}
