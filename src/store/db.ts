import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Card } from '../core/log/card.ts';
import type { ChartKey, EventId, LogEvent } from '../core/log/events.ts';
import type { Inner } from '../core/log/fold.ts';
import { NoStore } from './errors.ts';
import type { FindingKey } from './findings.ts';
import type { IdsHash } from './hash.ts';
import type { DocumentInfo } from './types.ts';

/** The fold of one chart as it was after its last event. */
export interface Snapshot {
  readonly chart: ChartKey;
  readonly fold: number;
  readonly ids: IdsHash;
  readonly inner: Inner;
}

/** What the tunes page shows of a chart: written with its snapshot, far smaller than it. */
export interface KeptCard {
  readonly chart: ChartKey;
  readonly fold: number;
  readonly card: Card;
}

export interface Schema extends DBSchema {
  events: { key: EventId; value: LogEvent; indexes: { chart: [ChartKey, number] } };
  snapshots: { key: ChartKey; value: Snapshot };
  cards: { key: ChartKey; value: KeptCard };
  documents: { key: string; value: DocumentInfo };
  files: { key: string; value: Blob };
  settings: { key: string; value: unknown };
  findings: { key: FindingKey; value: unknown };
}

export type Database = IDBPDatabase<Schema>;

const NAME = 'holdfast';
const VERSION = 3;
/** An older page gets this long to let go of the database. */
const BLOCKED_MS = 4000;

/** Every event of a chart, in the index's order. */
export const allOf = (chart: ChartKey): IDBKeyRange => IDBKeyRange.bound([chart], [chart, []]);

/** The one connection of a page; opened anew after the browser ended it or a newer page asked for it. */
export class Connection {
  private opened: Promise<Database> | null = null;
  private closed = false;

  /** Throws NoStore. */
  async db(): Promise<Database> {
    if (this.closed) throw new NoStore(false);
    this.opened ??= this.open();
    try {
      return await this.opened;
    } catch (error) {
      this.opened = null;
      throw error;
    }
  }

  close(): void {
    this.closed = true;
    void this.opened?.then(
      (db) => db.close(),
      () => undefined,
    );
  }

  private async open(): Promise<Database> {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const forget = () => {
      this.opened = null;
    };
    let tooLong: (reason: NoStore) => void = forget;
    const blocked = new Promise<never>((_, reject) => {
      tooLong = reject;
    });
    try {
      const opening = openDB<Schema>(NAME, VERSION, {
        upgrade(db, held) {
          if (held < 1) {
            db.createObjectStore('events', { keyPath: 'id' }).createIndex('chart', ['chart', 'seq']);
            db.createObjectStore('snapshots', { keyPath: 'chart' });
            db.createObjectStore('documents', { keyPath: 'hash' });
            db.createObjectStore('files');
            db.createObjectStore('settings');
          }
          // Filled where one is found to be missing.
          if (held < 2) db.createObjectStore('cards', { keyPath: 'chart' });
          if (held < 3) db.createObjectStore('findings');
        },
        blocked() {
          timer = setTimeout(() => tooLong(new NoStore(true)), BLOCKED_MS);
        },
        blocking(_current, _wanted, event) {
          // A newer page wants to upgrade: let go, or it waits for ever.
          (event.target as IDBDatabase).close();
          forget();
        },
        terminated: forget,
      });
      return await Promise.race([opening, blocked]);
    } catch (error) {
      // Without IndexedDB the very name throws; where it is forbidden, opening does.
      throw error instanceof NoStore ? error : new NoStore(false, error);
    } finally {
      clearTimeout(timer);
    }
  }
}
