/** The tunes that a file holds, as its pages tell: where each begins and ends, and what it is called. */
import type { FoundPage } from './types.ts';

/** What a page says of tunes: small enough to be kept and read for every page of a book. */
export interface PageBrief {
  /** From 0. */
  readonly page: number;
  /** Its lines of music: how many bars, and whether a tune ends with it. */
  readonly lines: readonly { readonly bars: number; readonly ends: boolean }[];
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
const TITLE_SURE = 0.8;

export function briefOf({ page, systems, signs }: FoundPage): PageBrief {
  const lines = systems.map(({ bars }) => ({
    bars: bars.filter(({ continues }) => !continues).length,
    ends: bars.at(-1)?.right === 'final',
  }));
  const titles = signs.flatMap(({ kind, text, sure, box }) => {
    const line = systems.findIndex((system) => system.box[1] >= box[1]);
    return kind === 'title' && text !== undefined && sure >= TITLE_SURE && line >= 0 ? [{ line, text }] : [];
  });
  return { page, lines, titles };
}

/**
 * Tunes in reading order. One begins after a final bar line, at the head of a page or under a title, and after
 * a page without music. Pages may be missing at the end, then the last tune may go on.
 */
export function tunesIn(briefs: readonly PageBrief[]): TuneInFile[] {
  const tunes: TuneInFile[] = [];
  let ended = true;
  for (const { page, lines, titles } of [...briefs].sort((a, b) => a.page - b.page)) {
    for (const [line, { bars, ends }] of lines.entries()) {
      const title = titles.find((one) => one.line === line)?.text ?? null;
      const last = tunes.at(-1);
      const isGap = last !== undefined && page - last.to.page > 1;
      const at = { page, line };
      if (last === undefined || isGap || (ended && (line === 0 || title !== null)))
        tunes.push({ title, from: at, to: at, bars });
      else tunes[tunes.length - 1] = { ...last, to: at, bars: last.bars + bars };
      ended = ends;
    }
  }
  return tunes;
}

const isBefore = (a: LineAt, b: LineAt) => a.page < b.page || (a.page === b.page && a.line < b.line);

/** The pages of a tune with its own lines alone; `pages` hold at least those. */
export function pagesOfTune(pages: readonly FoundPage[], { from, to }: TuneInFile): FoundPage[] {
  return pages
    .filter(({ page }) => page >= from.page && page <= to.page)
    .sort((a, b) => a.page - b.page)
    .map((page) => {
      const isIn = (line: number) =>
        !isBefore({ page: page.page, line }, from) && !isBefore(to, { page: page.page, line });
      const kept = page.systems.map((_, line) => isIn(line));
      const first = page.systems.slice(0, kept.indexOf(true)).reduce((sum, { bars }) => sum + bars.length, 0);
      const count = page.systems.reduce((sum, { bars }, line) => sum + (kept[line] ? bars.length : 0), 0);
      const ceiling = page.systems[kept.indexOf(true) - 1]?.box[3] ?? 0;
      const floor = page.systems[kept.lastIndexOf(true)]?.box[3] ?? 1;
      return {
        ...page,
        systems: page.systems.filter((_, line) => kept[line]),
        signs: page.signs.flatMap((sign) => {
          if (sign.bar === undefined) return sign.box[1] >= ceiling && sign.box[1] <= floor ? [sign] : [];
          const bar = sign.bar - first;
          return bar >= 0 && bar < count ? [{ ...sign, bar }] : [];
        }),
      };
    });
}
