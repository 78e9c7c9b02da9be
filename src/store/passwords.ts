import type { Database } from './db.ts';
import { write } from './write.ts';

/** Beside the settings, not among them, and never in a save: a password stays on the machine it was typed on. */
const nameOf = (hash: string) => `password ${hash}`;

/** The password that the player had this document remember; null: none. */
export async function passwordOf(db: Database, hash: string): Promise<string | null> {
  const kept = await db.get('settings', nameOf(hash));
  return typeof kept === 'string' ? kept : null;
}

/** Throws NotKept. */
export async function keepPassword(db: Database, hash: string, password: string): Promise<void> {
  await write(db, ['settings'], (tx) => tx.objectStore('settings').put(password, nameOf(hash)));
}
