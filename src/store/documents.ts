import { mergeDocuments } from '../core/log/save.ts';
import type { Database } from './db.ts';
import { sha256 } from './sha256.ts';
import { parseSettings } from './settings.ts';
import type { DocumentInfo, FileLabel } from './types.ts';
import { write } from './write.ts';

/** As it is kept: a reference to what the browser holds already, no copy in this page's memory. */
export const asPdf = (file: Blob): Blob => new Blob([file], { type: 'application/pdf' });

/**
 * Keeps a document's bytes once, and every label it comes under. Where the player wants no copies the bytes lie there
 * for the stand, by no document's word, until `dropPassing`. Throws NotKept.
 */
export async function keepDocument(db: Database, file: Blob, label: FileLabel): Promise<DocumentInfo> {
  const known = {
    hash: await sha256(file),
    bytes: file.size,
    names: [label.name],
    urls: label.url === undefined ? [] : [label.url],
    pages: [],
  };
  return write(db, ['documents', 'files', 'settings'], async (tx) => {
    const settings = parseSettings(await tx.objectStore('settings').get('settings'));
    const fresh: DocumentInfo = { ...known, kept: label.always === true || settings.keepCopies };
    const held = await tx.objectStore('documents').get(known.hash);
    const info = held ? mergeDocuments(held, fresh) : fresh;
    if (!held?.kept) await tx.objectStore('files').put(asPdf(file), fresh.hash);
    await tx.objectStore('documents').put(info);
    return info;
  });
}

/** Drops the copies of these files; what is known of the documents stays. Throws NotKept. */
export function dropFiles(db: Database, hashes: readonly string[]): Promise<void> {
  return write(db, ['documents', 'files'], async (tx) => {
    for (const hash of hashes) {
      const held = await tx.objectStore('documents').get(hash);
      if (held) await tx.objectStore('documents').put({ ...held, kept: false });
      await tx.objectStore('files').delete(hash);
    }
  });
}

/**
 * Drops bytes that only lay there for the stand, once it has had them: of several files taken at once each waits for
 * its first opening, unless it is `unwanted`. Where copies are wanted meanwhile, they become copies. Throws NotKept.
 */
export async function dropPassing(db: Database, unwanted: ReadonlySet<string> = new Set()): Promise<void> {
  const tx = db.transaction(['documents', 'files']);
  const [documents, files] = await Promise.all([
    tx.objectStore('documents').getAll(),
    tx.objectStore('files').getAllKeys(),
  ]);
  const kept = new Set(documents.filter((each) => each.kept).map(({ hash }) => hash));
  const passing = files.filter((hash) => !kept.has(hash));
  if (passing.length === 0) return;
  await write(db, ['documents', 'files', 'settings'], async (tx) => {
    const { keepCopies } = parseSettings(await tx.objectStore('settings').get('settings'));
    for (const hash of passing) {
      // Another page may have kept it since it was read here.
      const held = await tx.objectStore('documents').get(hash);
      if (held?.kept) continue;
      if (held && keepCopies) await tx.objectStore('documents').put({ ...held, kept: true });
      else if (!held || held.pages.length > 0 || unwanted.has(hash))
        await tx.objectStore('files').delete(hash);
    }
  });
}

/** The documents whose bytes lie here, as a copy or for the stand alone. */
export const heldFiles = async (db: Database): Promise<ReadonlySet<string>> =>
  new Set(await db.getAllKeys('files'));

/** What was learned of its pages on opening it. Nothing for an unknown document. */
export function setPages(db: Database, hash: string, pages: DocumentInfo['pages']): Promise<void> {
  return write(db, ['documents'], async (tx) => {
    const held = await tx.objectStore('documents').get(hash);
    if (held) await tx.objectStore('documents').put({ ...held, pages });
  });
}
