/** The tunes that a file holds, as its pages tell: where each begins and ends, and what it is called. */
import { ENDS, partOf } from './chart/tunes.ts';
import type { FoundPage } from './types.ts';

/** What a page says of tunes: small enough to be kept and read for every page of a book. */
export interface PageBrief {
  /** From 0. */
  readonly page: number;
  /** Its lines of music: how many bars, the bar line at the end, and whether a meter stands at the beginning. */
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

/** A title that is read with less is none. */
const TITLE_SURE = 0.9;

export function briefOf({ page, systems, signs }: FoundPage): PageBrief {
  const lines = systems.map(({ bars }) => ({
    bars: bars.filter(({ continues }) => !continues).length,
    right: bars.at(-1)?.right ?? 'none',
    meter: bars[0]?.meter !== undefined,
  }));
  const titles = signs.flatMap(({ kind, text, sure, box }) => {
    const line = systems.findIndex((system) => system.box[1] >= box[1]);
    return kind === 'title' && text !== undefined && sure >= TITLE_SURE && line >= 0 ? [{ line, text }] : [];
  });
  return { page, lines, titles };
}

/**
 * Tunes in reading order. One begins where `tunesOf` has it begin, and in a book also at the head of a page after
 * a final bar line, as titles of scans are not read, and after a page without music. Pages may be missing at the
 * end, then the last tune may go on.
 */
export function tunesIn(briefs: readonly PageBrief[]): TuneInFile[] {
  const tunes: TuneInFile[] = [];
  let before = 'none';
  for (const { page, lines, titles } of [...briefs].sort((a, b) => a.page - b.page)) {
    for (const [line, { bars, right, meter }] of lines.entries()) {
      const title = titles.find((one) => one.line === line)?.text ?? null;
      const last = tunes.at(-1);
      const isGap = last !== undefined && page - last.to.page > 1;
      const at = { page, line };
      const isTitled = title !== null && meter && ENDS.has(before);
      if (last === undefined || isGap || isTitled || (line === 0 && before === 'final'))
        tunes.push({ title, from: at, to: at, bars });
      else tunes[tunes.length - 1] = { ...last, to: at, bars: last.bars + bars };
      before = right;
    }
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
