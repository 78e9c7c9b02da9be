import type { Turn, Turns } from '../../core/chart/types.ts';
import type { SentPage } from '../../core/find/sent.ts';

export interface FileToFind {
  readonly bytes: Blob;
  /** What opens a locked file. */
  readonly password: string | null;
  /** How far its pages are turned. */
  readonly turns: Turns;
}

/** What the finder is asked: first the file, then a page at a time (from 0), turned so far. */
export type FindRequest =
  | { readonly type: 'open'; readonly file: Omit<FileToFind, 'turns'> }
  | { readonly type: 'page'; readonly index: number; readonly turn: Turn };

/** What it answers: how many pages there are, then each page; `failed` when the file cannot be read. */
export type FindReply =
  | { readonly type: 'opened'; readonly pages: number }
  | { readonly type: 'page'; readonly index: number; readonly found: SentPage | null }
  | { readonly type: 'failed' };
