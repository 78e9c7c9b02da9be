import type { Card } from '../core/log/card.ts';
import type { ChartKey, EventBody, EventId, LogEvent } from '../core/log/events.ts';
import type { PageBrief } from '../core/find/tunes.ts';
import type { FoundPage } from '../core/find/types.ts';
import type { Folded } from '../core/log/fold.ts';

export interface DocumentInfo {
  /** SHA-256 of the bytes, 64 hex digits. */
  readonly hash: string;
  readonly bytes: number;
  /** File names, titles and addresses it has been opened under: only labels. */
  readonly names: readonly string[];
  readonly urls: readonly string[];
  /** Points, crop box × UserUnit, after /Rotate; empty until it has been opened once. */
  readonly pages: readonly { readonly width: number; readonly height: number }[];
  readonly kept: boolean;
}

/** What a file is called where it comes from. */
export interface FileLabel {
  readonly name: string;
  readonly url?: string;
  /** Kept also where the player wants no copies: the file is ours, not theirs. */
  readonly always?: true;
}

export interface MergeReport {
  readonly added: number;
  readonly charts: number;
}

/** How the tunes page sorts: by the last pass, by name, by how far it has come, by when it came in. */
export type TuneSort = 'played' | 'name' | 'standing' | 'added';

/** What is to be appended to one chart's log. */
export interface Addition {
  readonly chart: ChartKey;
  readonly bodies: readonly EventBody[];
}

export interface Settings {
  theme: 'auto' | 'day' | 'stage';
  volume: number;
  /** Seconds added to the browser's own output latency when drawing. */
  lightOffset: number;
  singleLetters: boolean;
  keys: Record<string, string[]>;
  cautionShown: boolean;
  /** A chart opened for the first time is read for its bars. */
  findBars: boolean;
  tuneSort: TuneSort;
  /** Metres from the screen to the player. */
  distance: number;
  /** How dark faint ink is made. */
  ink: 'printed' | 'darker' | 'darkest';
  /** On stage, scans change ink for paper as engraved pages do. */
  swapScans: boolean;
  /** A copy of every file that is opened is kept, so that its chart opens again without it. */
  keepCopies: boolean;
  /** Permission patterns of sites, and of files, that the player took back. */
  takenBack: readonly string[];
  drill: import('../core/drill/types.ts').DrillSettings;
}

export interface Store {
  /** Keeps a file. The same bytes again only add a label. Throws NotKept when there is no room. */
  keepDocument(file: Blob, label: FileLabel): Promise<DocumentInfo>;
  document(hash: string): Promise<DocumentInfo | null>;
  bytes(hash: string): Promise<Blob | null>;
  /** The password that the player had this document remember; null: none. */
  password(hash: string): Promise<string | null>;
  /** Remembers it on this machine only: it is in no save. Throws NotKept. */
  keepPassword(hash: string, password: string): Promise<void>;
  setPages(hash: string, pages: DocumentInfo['pages']): Promise<void>;
  documents(): Promise<DocumentInfo[]>;
  /** Keeps what was found on a page of a file, on this machine only: it is in no save. Throws NotKept. */
  keepFound(hash: string, page: FoundPage): Promise<void>;
  /** A page as it was found; null when it was not, or by an older finder. */
  foundPage(hash: string, page: number): Promise<FoundPage | null>;
  /** What the pages found so far say of the tunes in a file. */
  foundBriefs(hash: string): Promise<PageBrief[]>;
  /** Drops the copies of these files; marks and history stay. Throws NotKept. */
  dropFiles(hashes: readonly string[]): Promise<void>;
  /** The documents whose bytes lie here, as a copy or until the stand has had them. */
  heldFiles(): Promise<ReadonlySet<string>>;
  /**
   * Drops files that lay there only until the stand had them, as the player wants no copies; those `unwanted` at once.
   * Throws NotKept.
   */
  dropPassing(unwanted?: ReadonlySet<string>): Promise<void>;
  /** Events in the log, over all charts. */
  eventCount(): Promise<number>;
  /** The one write path for the log: strict durability, snapshot in the same transaction. Resolves after the commit. */
  append(chart: ChartKey, sitting: string, bodies: readonly EventBody[]): Promise<Folded>;
  /** The same for several charts, each named once: all of it or nothing. Resolves to the ids, by chart, as written. */
  appendAll(additions: readonly Addition[]): Promise<EventId[][]>;
  /** From the snapshot; `now` (ISO) loosens knots after a pause. Null when the chart is unknown. */
  state(chart: ChartKey, now: string): Promise<Folded | null>;
  events(chart: ChartKey): Promise<LogEvent[]>;
  event(id: EventId): Promise<LogEvent | null>;
  /**
   * Every chart that was ever here, removed ones too, and as removed those that were joined into another; written
   * with the snapshots, the log is not read.
   */
  cards(): Promise<Card[]>;
  /** Holds the chart for writing while `signal` lives: calls back true when this page may write, false at first if another has it. */
  claim(chart: ChartKey, signal: AbortSignal, writing: (mine: boolean) => void): void;
  /** Called after another page has written the chart. */
  watch(chart: ChartKey, signal: AbortSignal, changed: () => void): void;
  settings(): Promise<Settings>;
  setSettings(change: Partial<Settings>): Promise<Settings>;
  save(options: { pdfs: boolean }): Promise<Blob>;
  /** When a save was last made here, UTC; null: never. */
  savedAt(): Promise<string | null>;
  merge(file: Blob): Promise<MergeReport>;
  close(): void;
}
