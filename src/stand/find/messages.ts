import type { Turn } from '../../core/chart/types.ts';
import type { FoundPage } from '../../core/find/types.ts';

/** What the finder is asked: the bars of these pages (from 0), in this order. */
export interface FindRequest {
  readonly bytes: Blob;
  readonly password: string | null;
  /** How far the pages are turned. */
  readonly turn: Turn;
  readonly from: number;
}

/** What it answers: how many pages there are, then a page at a time; `failed` when the file cannot be read. */
export type FindReply =
  | { readonly type: 'opened'; readonly pages: number }
  | { readonly type: 'page'; readonly index: number; readonly found: FoundPage | null }
  | { readonly type: 'failed' };
