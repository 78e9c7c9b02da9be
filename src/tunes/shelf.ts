import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { fileNameOf, isPdf } from '../core/chart/naming.ts';
import type { ChartKey, EventId } from '../core/log/events.ts';
import type { ChartState } from '../core/log/state.ts';
import { plural, t } from '../host/i18n.ts';
import { askToFetch } from '../host/messages.ts';
import { pageUrl } from '../host/pages.ts';
import { hostPattern, requestHost } from '../host/permissions.ts';
import { asProblem, ChartProblem, problemFrom } from '../host/problem.ts';
import { turnTo } from '../host/turn.ts';
import { takeIn } from '../store/intake.ts';
import type { Settings, Store } from '../store/types.ts';
import { announce } from '../ui/LiveRegion.tsx';
import { putSampleIn } from './sample.ts';

/** A removed chart that can still be brought back with one press. */
export interface Removed {
  readonly chart: ChartKey;
  readonly name: string;
  readonly event: EventId;
}

/** What the page shows, and everything that can be done on it. Failures become `problem`, never exceptions. */
export interface Shelf {
  /** Null until read. */
  readonly charts: ReadonlySignal<readonly ChartState[] | null>;
  readonly settings: ReadonlySignal<Settings>;
  readonly problem: Signal<ChartProblem | null>;
  /** One quiet line about what has just been done. */
  readonly note: Signal<string | null>;
  readonly removed: ReadonlySignal<readonly Removed[]>;
  readonly fetching: ReadonlySignal<boolean>;
  readonly store: Store;
  refresh(): Promise<void>;
  takeFiles(files: readonly File[]): Promise<void>;
  /** Called in the press itself: the browser's question about the site comes first. */
  takeAddress(address: string): Promise<void>;
  takeSample(): Promise<void>;
  rename(chart: ChartKey, name: string): Promise<void>;
  remove(chart: ChartState): Promise<void>;
  bringBack(removed: Removed): Promise<void>;
  save(options: { pdfs: boolean }): Promise<void>;
  change(part: Partial<Settings>): Promise<void>;
}

const now = () => new Date().toISOString();
const toStand = (params: Record<string, string>) => location.assign(pageUrl('stand', params));

/** The first bytes of a file. Throws ChartProblem when there are none. */
async function headOf(file: File): Promise<Uint8Array> {
  if (file.size === 0) throw new ChartProblem('empty', file.name);
  return new Uint8Array(await file.slice(0, 1024).arrayBuffer());
}

/** A save is JSON or a zip: '{' or 'PK' at its start. */
const maySave = (head: Uint8Array) => head[0] === 0x7b || (head[0] === 0x50 && head[1] === 0x4b);

function download(blob: Blob): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = `holdfast-${now().slice(0, 10)}.${blob.type.includes('json') ? 'json' : 'zip'}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** Opens the shelf over a store. `initial` is what an earlier page or the background had to say. */
export async function openShelf(store: Store, initial: URLSearchParams): Promise<Shelf> {
  const charts = signal<readonly ChartState[] | null>(null);
  const settings = signal(await store.settings());
  const problem = signal(problemFrom(initial));
  const note = signal<string | null>(null);
  const removed = signal<readonly Removed[]>([]);
  const fetching = signal(false);

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
    charts.value = await store.charts(now());
  };
  const append = (chart: ChartKey, body: Parameters<Store['append']>[2][number]) =>
    store.append(chart, crypto.randomUUID(), [body]);

  /** One file: a PDF gives its chart's key, a save is merged. */
  async function takeFile(file: File): Promise<ChartKey | null> {
    const head = await headOf(file);
    if (isPdf(head)) return takeIn(store, new Uint8Array(await file.arrayBuffer()), { name: file.name });
    if (!maySave(head)) throw new ChartProblem('not-pdf', file.name);
    // A log of years takes seconds.
    note.value = t('tunes_merging', file.name);
    const { added } = await store.merge(file).finally(() => (note.value = null));
    settings.value = await store.settings();
    say(plural('tunes_merged', added));
    return null;
  }

  return {
    charts,
    settings,
    problem,
    note,
    removed,
    fetching,
    store,
    refresh,
    takeFiles: (files) =>
      doing(files[0]?.name ?? '', async () => {
        const [only] = files;
        if (only && files.length === 1 && isPdf(await headOf(only))) {
          // The stand keeps it while it draws it.
          await turnTo('stand', only);
          return;
        }
        const taken: ChartKey[] = [];
        for (const file of files)
          try {
            const chart = await takeFile(file);
            if (chart !== null) taken.push(chart);
          } catch (error) {
            // The others are still taken; the first mishap is told.
            problem.value ??= asProblem(error, file.name);
          }
        const one = taken.length === 1 && problem.value === null ? taken[0] : undefined;
        if (one !== undefined) {
          toStand({ chart: one });
          return;
        }
        if (taken.length > 0) say(plural('tunes_opened', taken.length));
        await refresh();
      }),
    async takeAddress(typed) {
      const address = typed.trim();
      const asked = requestHost(address);
      await doing(address, async () => {
        if (/^(blob|data):/.test(address)) throw new ChartProblem('page-blob', address.slice(0, 60));
        if (address.startsWith('file:')) throw new ChartProblem('file-tab', address);
        if (hostPattern(address) === null) throw new ChartProblem('no-address', address);
        if (!(await asked))
          throw new ChartProblem('no-grant', fileNameOf(address, null), new URL(address).host);
        fetching.value = true;
        const answer = await askToFetch(address).finally(() => (fetching.value = false));
        if ('chart' in answer) {
          toStand({ chart: answer.chart });
          return;
        }
        throw problemFrom(new URLSearchParams(answer.problem)) ?? new ChartProblem('failed', address);
      });
    },
    takeSample: () =>
      doing(t('tunes_sample_name'), async () => toStand({ chart: await putSampleIn(store), begin: '1' })),
    rename: (chart, name) =>
      doing(name, async () => {
        await append(chart, { type: 'named', name });
        await refresh();
        say(t('tunes_renamed', name));
      }),
    remove: ({ chart, name }) =>
      doing(name, async () => {
        const { last } = await append(chart, { type: 'removed' });
        if (last) removed.value = [...removed.value, { chart, name, event: last.id }];
        await refresh();
        announce(t('tunes_removed', name));
      }),
    bringBack: (gone) =>
      doing(gone.name, async () => {
        await append(gone.chart, { type: 'undone', event: gone.event });
        removed.value = removed.value.filter((each) => each !== gone);
        await refresh();
        say(t('tunes_back', gone.name));
      }),
    save: (options) =>
      doing('', async () => {
        download(await store.save(options));
        say(t('tunes_saved'));
      }),
    change: (part) =>
      doing('', async () => {
        settings.value = await store.setSettings(part);
      }),
  };
}
