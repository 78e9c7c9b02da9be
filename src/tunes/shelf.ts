import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Card } from '../core/log/card.ts';
import type { ChartState } from '../core/log/state.ts';
import { getLanguage, plural, t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import { asProblem, ChartProblem, problemFrom } from '../host/problem.ts';
import { turnTo } from '../host/turn.ts';
import { sha256 } from '../store/index.ts';
import { takeIn } from '../store/intake.ts';
import type { Addition, DocumentInfo, Settings, Store } from '../store/types.ts';
import { announce } from '../ui/LiveRegion.tsx';
import { createChanges, type Changes } from './changes.ts';
import { unwantedIn } from './copies.ts';
import { marksOn, type Edition } from './editions.ts';
import { createFromSites, type FromSites } from './from-sites.ts';
import { cardsIn, sortTunes } from './list.ts';
import { bringSampleFile, putSampleIn, sampleHash } from './sample.ts';
import { download, kindOf } from './take.ts';
import { mergedText } from './words.ts';

/** What the page shows, and everything that can be done on it. Failures become `problem`, never exceptions. */
export interface Shelf {
  /** Every chart that was ever here, removed ones too. Null until read. */
  readonly cards: ReadonlySignal<readonly Card[] | null>;
  /** The tune to play now. */
  readonly today: ReadonlySignal<ChartState | null>;
  /** By hash, `kept` where the bytes lie here, for whatever reason. Null until read: the list is shown first. */
  readonly documents: ReadonlySignal<ReadonlyMap<string, DocumentInfo> | null>;
  /** The sample's document, whose file is ours and never dropped. */
  readonly sample: ReadonlySignal<string | null>;
  /** When a save was last made, UTC; null: never; undefined: not read yet. */
  readonly savedAt: ReadonlySignal<string | null | undefined>;
  /** Whether the browser has promised to keep everything; null: not known. */
  readonly promised: ReadonlySignal<boolean | null>;
  readonly settings: ReadonlySignal<Settings>;
  readonly problem: Signal<ChartProblem | null>;
  /** One quiet line about what has just been done. */
  readonly note: Signal<string | null>;
  readonly last: Changes['last'];
  readonly sites: FromSites;
  readonly store: Store;
  /** Reads what the list shows. */
  refresh(): Promise<void>;
  /** Reads what is told beside it. */
  look(): Promise<void>;
  takeFiles(files: readonly File[]): Promise<void>;
  takeSample(): Promise<void>;
  /**
   * Takes the file of a chart of which no copy is kept, and puts the chart on the stand, to begin at once if asked;
   * false: it is another file.
   */
  takeAgain(card: Card, file: File, begin: boolean): Promise<boolean>;
  /** Writes it as one change, which `text` names and `undo` takes back. */
  make(text: string, additions: readonly Addition[] | (() => Promise<readonly Addition[]>)): Promise<void>;
  undo(): Promise<void>;
  /** Puts the older one's marks on the newer one as a proposal, on the stand. */
  carry(edition: Edition): Promise<void>;
  drop(documents: readonly DocumentInfo[]): Promise<void>;
  /** Asks the browser to promise that it keeps everything. */
  askToKeep(): Promise<void>;
  save(options: { pdfs: boolean }): Promise<void>;
  change(part: Partial<Settings>): Promise<void>;
}

const now = () => new Date().toISOString();
/** The stand is on its way, and reads a file that lies there for it alone. */
let leaving = false;
function toStand(params: Readonly<Record<string, string>>): void {
  leaving = true;
  // Coming back to this page as it was left, it is here again.
  addEventListener('pagehide', () => (leaving = false), { once: true });
  location.assign(pageUrl('stand', params));
}

/** Opens the shelf over a store. `initial` is what an earlier page or the background had to say. */
export async function openShelf(store: Store, initial: URLSearchParams): Promise<Shelf> {
  const cards = signal<readonly Card[] | null>(null);
  const today = signal<ChartState | null>(null);
  const documents = signal<ReadonlyMap<string, DocumentInfo> | null>(null);
  const sample = signal<string | null>(null);
  const savedAt = signal<string | null | undefined>(undefined);
  const promised = signal<boolean | null>(null);
  const settings = signal(await store.settings());
  const problem = signal(problemFrom(initial));
  const note = signal<string | null>(null);
  const changes = createChanges(store);

  const say = (text: string) => {
    note.value = text;
    announce(text);
  };
  /** Runs one thing the player asked for; what goes wrong becomes the one line. */
  async function doing(about: string, work: () => Promise<void>): Promise<void> {
    problem.value = null;
    note.value = null;
    try {
      await work();
    } catch (error) {
      problem.value = asProblem(error, about);
    }
  }
  const refresh = async () => {
    const read = await store.cards();
    const playing = read.filter((card) => card.step !== null && card.playedAt !== null);
    const [last] = sortTunes(cardsIn(playing, { kind: 'all' }), 'played', getLanguage());
    today.value = last ? await store.state(last.chart, now()) : null;
    cards.value = read;
  };
  const readDocuments = async () => {
    const [all, held] = await Promise.all([store.documents(), store.heldFiles()]);
    documents.value = new Map(all.map((each) => [each.hash, { ...each, kept: held.has(each.hash) }]));
  };
  /** No player can be asked for the sample's file: it is here as long as its chart is. */
  const lookForSample = async () => {
    sample.value = await sampleHash();
    const isHere = (cards.value ?? []).some((card) => !card.removed && card.document === sample.value);
    if (!isHere || documents.value?.get(sample.value ?? '')?.kept === true) return;
    await bringSampleFile(store);
    await readDocuments();
  };
  const look = async () => {
    // What cannot be dropped now is the next time; the page is read all the same.
    if (!leaving && sites.fetching.peek() === null)
      await store.dropPassing(unwantedIn(cards.value ?? [])).catch(() => undefined);
    const [saved] = await Promise.all([store.savedAt(), readDocuments()]);
    savedAt.value = saved;
    promised.value = await navigator.storage.persisted().catch(() => null);
    await lookForSample().catch(() => undefined);
  };
  /** How many events of it are new. */
  const merge = async (file: File) => {
    // A log of years takes seconds.
    note.value = t('tunes_merging', file.name);
    const { added } = await store.merge(file).finally(() => (note.value = null));
    settings.value = await store.settings();
    return added;
  };

  /** Does it with one file after the other: where one fails the others go on, and the first mishap is told. */
  async function withEach<T>(files: readonly File[], work: (file: File) => Promise<T>): Promise<T[]> {
    const done: T[] = [];
    for (const file of files)
      try {
        done.push(await work(file));
      } catch (error) {
        problem.value ??= asProblem(error, file.name);
      }
    return done;
  }
  /** What has come with these saves, in words; nothing where none could be merged. */
  const mergeAll = async (saves: readonly File[]): Promise<string[]> => {
    if (saves.length === 0) return [];
    const before = await store.cards();
    const added = await withEach(saves, merge);
    const events = added.reduce((sum, count) => sum + count, 0);
    return added.length === 0 ? [] : [mergedText(before, await store.cards(), events)];
  };

  const change = async (part: Partial<Settings>) => {
    settings.value = await store.setSettings(part);
  };
  const sites = createFromSites({ settings, change, doing, show: toStand });

  return {
    cards,
    today,
    documents,
    sample,
    savedAt,
    promised,
    settings,
    problem,
    note,
    last: changes.last,
    sites,
    store,
    refresh,
    look,
    takeFiles: (files) =>
      doing(files[0]?.name ?? '', async () => {
        const read = await withEach(files, async (file) => ({ file, kind: await kindOf(file) }));
        const those = (wanted: 'pdf' | 'save') =>
          read.filter(({ kind }) => kind === wanted).map(({ file }) => file);
        const [pdfs, saves] = [those('pdf'), those('save')];
        if (files.length === 1 && pdfs[0]) {
          // The stand keeps it while it draws it.
          await turnTo('stand', pdfs[0]);
          return;
        }
        // What is opened beside a save has not come with it.
        const merged = await mergeAll(saves);
        const opened = await withEach(pdfs, (file) => takeIn(store, file, { name: file.name }));
        const said = [...(opened.length > 0 ? [plural('tunes_opened', opened.length)] : []), ...merged];
        if (said.length > 0) say(said.join(' '));
        await Promise.all([refresh(), look()]);
      }),
    takeSample: () =>
      doing(t('tunes_sample_name'), async () => {
        toStand({ chart: await putSampleIn(store), begin: '1' });
      }),
    async takeAgain(card, file, begin) {
      let same = true;
      await doing(file.name, async () => {
        if ((await kindOf(file)) !== 'pdf') throw new ChartProblem('not-pdf', file.name);
        same = (await sha256(file)) === card.document;
        if (!same) return;
        await store.keepDocument(file, { name: file.name });
        toStand({ chart: card.chart, ...(begin ? { begin: '1' } : {}) });
      });
      return same;
    },
    make: (text, additions) =>
      doing('', async () => {
        await changes.make(text, typeof additions === 'function' ? await additions() : additions);
        await refresh();
        announce(text);
      }),
    undo: () =>
      doing('', async () => {
        const change = await changes.undo();
        if (!change) return;
        await refresh();
        say(t('tunes_undone', change.text));
      }),
    carry: ({ older, newer }) =>
      doing(newer.name, async () => {
        const [before, after] = await Promise.all([
          store.state(older.chart, now()),
          store.state(newer.chart, now()),
        ]);
        if (!before?.marks) return;
        // Not known before it has been opened once.
        const pages = documents.value?.get(newer.document ?? '')?.pages.length || Infinity;
        const marks = marksOn(before.marks.marks, pages);
        await store.append(newer.chart, crypto.randomUUID(), [
          { type: 'marks', parent: after?.marks?.event ?? null, marks },
          { type: 'carried', of: older.chart, what: 'marks' },
        ]);
        toStand({ chart: newer.chart, marks: '1' });
      }),
    drop: (dropped) =>
      doing('', async () => {
        await store.dropFiles(dropped.map(({ hash }) => hash));
        await look();
        say(plural('tunes_dropped', dropped.length));
      }),
    askToKeep: () =>
      doing('', async () => {
        promised.value = await navigator.storage.persist();
        say(t(promised.value ? 'tunes_promised' : 'tunes_not_promised'));
      }),
    save: (options) =>
      doing('', async () => {
        download(await store.save(options), now().slice(0, 10));
        savedAt.value = await store.savedAt();
        say(t('tunes_saved'));
      }),
    change: (part) => doing('', () => change(part)),
  };
}
