/** What was found on a page as it is kept beside the file: not part of any save, found again where it is missing. */
import * as v from 'valibot';
import { briefOf, type PageBrief } from './tunes.ts';
import type { FoundPage } from './types.ts';

/** Raised with every change to what is found: what an older finder found is found anew. */
export const FINDER = 10;

/** A page's finding: its brief to be read at once, everything else as text until it is asked for. */
export interface KeptFinding {
  readonly finder: number;
  readonly brief: PageBrief;
  readonly text: string;
}

const number = v.number();
const index = v.pipe(number, v.integer(), v.minValue(0));
const box = v.tuple([number, number, number, number]);
const sure = { sure: number };

/** As far as the stages after finding rely on it: what is in bars and signs was written by this very finder. */
const pageSchema = v.looseObject({
  page: index,
  width: v.pipe(number, v.gtValue(0)),
  height: v.pipe(number, v.gtValue(0)),
  systems: v.array(
    v.looseObject({
      box,
      ...sure,
      staves: v.array(v.looseObject({ box, lines: v.array(number) })),
      bars: v.array(v.looseObject({ box, ...sure, left: v.string(), right: v.string() })),
      seen: v.optional(v.array(v.looseObject({ x: number, look: v.array(number) }))),
    }),
  ),
  signs: v.array(v.looseObject({ kind: v.string(), box, bar: index, ...sure })),
  by: v.picklist(['ink', 'pixels', 'both']),
});

const briefSchema = v.looseObject({
  finder: v.literal(FINDER),
  text: v.string(),
  brief: v.strictObject({
    page: index,
    lines: v.array(v.strictObject({ bars: number, right: v.string(), meter: v.boolean() })),
    titles: v.array(v.strictObject({ line: number, text: v.string() })),
  }),
});

export const keepFinding = (page: FoundPage): KeptFinding => ({
  finder: FINDER,
  brief: briefOf(page),
  text: JSON.stringify(page),
});

/** The brief of what is kept; null when another finder wrote it, or it cannot be read. */
export function briefIn(kept: unknown): PageBrief | null {
  const read = v.safeParse(briefSchema, kept);
  return read.success ? read.output.brief : null;
}

/** The page that is kept; null as above. */
export function pageIn(kept: unknown): FoundPage | null {
  const read = v.safeParse(briefSchema, kept);
  if (!read.success) return null;
  try {
    const page: unknown = JSON.parse(read.output.text);
    return v.is(pageSchema, page) ? (page as unknown as FoundPage) : null;
  } catch {
    return null;
  }
}
