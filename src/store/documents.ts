import { mergeDocuments } from '../core/log/save.ts';
import type { Database } from './db.ts';
import { sha256 } from './sha256.ts';
import type { DocumentInfo } from './types.ts';
import { write } from './write.ts';

/** As it is kept: a reference to what the browser holds already, no copy in this page's memory. */
export const asPdf = (file: Blob): Blob => new Blob([file], { type: 'application/pdf' });

/** Keeps a document's bytes once, and every label it comes under. Throws NotKept. */
export async function keepDocument(
  db: Database,
  file: Blob,
  label: { readonly name: string; readonly url?: string },
): Promise<DocumentInfo> {
  const fresh: DocumentInfo = {
    hash: await sha256(file),
    bytes: file.size,
    names: [label.name],
    urls: label.url === undefined ? [] : [label.url],
    pages: [],
    kept: true,
  };
  return write(db, ['documents', 'files'], async (tx) => {
    const held = await tx.objectStore('documents').get(fresh.hash);
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

/** What was learned of its pages on opening it. Nothing for an unknown document. */
export function setPages(db: Database, hash: string, pages: DocumentInfo['pages']): Promise<void> {
  return write(db, ['documents'], async (tx) => {
    const held = await tx.objectStore('documents').get(hash);
    if (held) await tx.objectStore('documents').put({ ...held, pages });
  });
}
