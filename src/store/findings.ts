/** What was found on the pages of documents: a help on this machine, in no save, and made anew where it is lost. */
import { briefIn, keepFinding, pageIn, type KeptFinding } from '../core/find/kept.ts';
import type { PageBrief } from '../core/find/tunes.ts';
import type { FoundPage } from '../core/find/types.ts';
import type { Database } from './db.ts';
import { write } from './write.ts';

export type FindingKey = [document: string, page: number];

const allOf = (document: string) => IDBKeyRange.bound([document], [document, []]);

/** Throws NotKept. */
export function keepFound(db: Database, document: string, page: FoundPage): Promise<void> {
  const kept: KeptFinding = keepFinding(page);
  return write(db, ['findings'], async (tx) => {
    await tx.objectStore('findings').put(kept, [document, page.page]);
  });
}

/** The page as it was found; null when it has not been, or by another finder. */
export async function foundPage(db: Database, document: string, page: number): Promise<FoundPage | null> {
  return pageIn(await db.get('findings', [document, page]));
}

/** Briefs of the pages that have been looked at, in order. */
export async function foundBriefs(db: Database, document: string): Promise<PageBrief[]> {
  return (await db.getAll('findings', allOf(document))).flatMap((kept) => briefIn(kept) ?? []);
}
