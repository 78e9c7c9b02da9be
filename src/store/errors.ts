/** What can go wrong in the store, by name: a screen maps each to its own line. */
export { BadSave } from '../core/log/save.ts';

/** It could not be written, and nothing has changed. `full`: no room on the disk or in the quota. */
export class NotKept extends Error {
  override readonly name = 'NotKept';
  constructor(
    readonly full: boolean,
    cause?: unknown,
  ) {
    super(full ? 'no room to keep it' : 'it could not be written', { cause });
  }
}

/** There is no database. `blocked`: another page holds an older version of it open. */
export class NoStore extends Error {
  override readonly name = 'NoStore';
  constructor(
    readonly blocked: boolean,
    cause?: unknown,
  ) {
    super(blocked ? 'another page holds the database' : 'no database in this browser', { cause });
  }
}
