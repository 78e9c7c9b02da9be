/** Saving everything to one file, and merging such a file back. */
import { zipSync, type Zippable } from 'fflate';
import { mergeDocuments, newSave, pathOf, readSave, saveBytes } from '../core/log/save.ts';
import type { ChartKey } from '../core/log/events.ts';
import type { Database } from './db.ts';
import { asPdf } from './documents.ts';
import { BadSave } from './errors.ts';
import { parseSettings } from './settings.ts';
import { sha256 } from './sha256.ts';
import type { MergeReport } from './types.ts';
import { putEvents, write } from './write.ts';

/** Everything in one file: JSON, or with the PDFs a zip that holds it as save.json. */
export async function saveFile(db: Database, options: { readonly pdfs: boolean }): Promise<Blob> {
  const tx = db.transaction(['events', 'documents', 'settings']);
  const [events, documents, settings] = await Promise.all([
    tx.objectStore('events').getAll(),
    tx.objectStore('documents').getAll(),
    tx.objectStore('settings').get('settings'),
  ]);
  const json = saveBytes(newSave(events, documents, { ...parseSettings(settings) }));
  if (!options.pdfs) return new Blob([json], { type: 'application/json' });
  const inside: Zippable = { 'save.json': json };
  for (const { hash, kept } of documents) {
    const file = kept && (await db.get('files', hash));
    // PDFs are packed already: level 0 saves the time.
    if (file) inside[pathOf(hash)] = [new Uint8Array(await file.arrayBuffer()), { level: 0 }];
  }
  return new Blob([zipSync(inside)], { type: 'application/zip' });
}

/** Merges a save: all of it or, with BadSave or NotKept, nothing. */
export async function mergeFile(
  db: Database,
  file: Blob,
): Promise<MergeReport & { readonly keys: readonly ChartKey[] }> {
  const { save, files } = readSave(new Uint8Array(await file.arrayBuffer()), true);
  const pdfs = new Map<string, Blob>();
  for (const { hash } of save.documents) {
    const bytes = files.get(pathOf(hash));
    if (!bytes) continue;
    const pdf = asPdf(new Blob([bytes]));
    if ((await sha256(pdf)) !== hash) throw new BadSave(`damaged at ${pathOf(hash)}`);
    pdfs.set(hash, pdf);
  }
  const keys = [...new Set(save.events.map((event) => event.chart))];
  const stores = ['events', 'snapshots', 'cards', 'documents', 'files', 'settings'] as const;
  const added = await write(db, [...stores], async (tx) => {
    // This machine's settings stay; a new one takes those of the save.
    const own: unknown = await tx.objectStore('settings').get('settings');
    if (own === undefined) await tx.objectStore('settings').put(parseSettings(save.settings), 'settings');
    const { keepCopies } = parseSettings(own ?? save.settings);
    for (const saved of save.documents) {
      const { hash } = saved;
      const held = await tx.objectStore('documents').get(hash);
      const pdf = keepCopies ? pdfs.get(hash) : undefined;
      // Kept means kept here: a save without its PDFs brings none, nor does one where no copies are wanted.
      const kept = (held?.kept ?? false) || pdf !== undefined;
      if (pdf && !held?.kept) await tx.objectStore('files').put(pdf, hash);
      await tx.objectStore('documents').put({ ...(held ? mergeDocuments(held, saved) : saved), kept });
    }
    return putEvents(tx, save.events);
  });
  return { added, charts: keys.length, keys };
}
