/** The rest of a file is found beside the player's work: quietly, a page at a time, and kept for the next opening. */
import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { briefOf, pagesOfTune, tunesIn, type PageBrief, type TuneInFile } from '../../core/find/tunes.ts';
import { NoFinder, openFinder } from './finder.ts';
import { tuneFrom, turnsAfter, type FoundTune } from './finding.ts';
import { createLooker, type Looked } from './lying.ts';
import type { FileToFind } from './messages.ts';

/** Between two pages it rests as long as a page took, so that it never has more than half a processor; at least, ms. */
const REST = 80;

export interface BookOptions {
  readonly file: () => Promise<FileToFind>;
  readonly pages: number;
  readonly signal: AbortSignal;
  readonly briefs: () => Promise<readonly PageBrief[]>;
  readonly page: (index: number) => Promise<Looked | null>;
  readonly keep: (looked: Looked) => Promise<void>;
  /** False while a drill sounds or the page is hidden: nothing is begun then. */
  readonly free: ReadonlySignal<boolean>;
}

export interface Book {
  /** Tunes found so far, in reading order. */
  readonly tunes: ReadonlySignal<readonly TuneInFile[]>;
  /** How many pages have been looked at; null when nothing is being looked at. */
  readonly progress: ReadonlySignal<{ readonly done: number; readonly pages: number } | null>;
  /** Looks at the pages that nobody has looked at. */
  start(): Promise<void>;
  stop(): void;
  /** A page that has been found elsewhere. */
  readonly add: (looked: Looked) => void;
  /** A tune of `tunes` with its marks; null when its pages are not there any more. */
  tune(tune: TuneInFile): Promise<FoundTune | null>;
}

export function createBook(options: BookOptions): Book {
  const { file, pages, signal: left, page, keep, free } = options;
  const briefs = signal<ReadonlyMap<number, PageBrief>>(new Map());
  const running = signal(false);
  const stopped = new AbortController();
  const over = AbortSignal.any([left, stopped.signal]);
  const put = (list: readonly PageBrief[]) =>
    (briefs.value = new Map([...briefs.peek(), ...list.map((brief) => [brief.page, brief] as const)]));
  const tried = new Set<number>();
  const missing = () =>
    Array.from({ length: pages }, (_, i) => i).find((i) => !briefs.peek().has(i) && !tried.has(i));

  const look = async () => {
    const reading = await file();
    const finder = await openFinder(reading, over);
    const looker = createLooker(finder, reading.turns, over);
    try {
      for (let index = missing(); index !== undefined && !over.aborted; index = missing()) {
        if (!(await untilFree(free, over))) return;
        tried.add(index);
        const began = performance.now();
        const looked = await looker.look(index);
        if (looked) {
          put([briefOf(looked.page)]);
          await keep(looked);
        } else briefs.value = new Map(briefs.peek());
        await rest(Math.max(REST, performance.now() - began), over);
      }
    } finally {
      finder.end();
    }
  };

  return {
    tunes: computed(() => tunesIn([...briefs.value.values()])),
    progress: computed(() =>
      running.value ? { done: new Set([...briefs.value.keys(), ...tried]).size, pages } : null,
    ),
    async start() {
      put(await options.briefs());
      if (running.peek() || pages < 2 || missing() === undefined) return;
      running.value = true;
      try {
        await look();
      } catch (error) {
        // Told to stop, or the file cannot be read in a worker: the player looks for tunes by hand, as ever.
        if (!(error instanceof NoFinder)) throw error;
      } finally {
        running.value = false;
      }
    },
    stop: () => stopped.abort(),
    add: ({ page: found }) => put([briefOf(found)]),
    async tune(tune) {
      const wanted = Array.from({ length: tune.to.page - tune.from.page + 1 }, (_, i) => tune.from.page + i);
      const looked = (await Promise.all(wanted.map(page))).flatMap((one) => one ?? []);
      const { turns } = await file();
      const found = looked.map((one) => one.page);
      return tuneFrom(pagesOfTune(found, tune), turnsAfter(turns, looked));
    },
  };
}

const rest = (ms: number, over: AbortSignal) =>
  new Promise<void>((resolve) => {
    const done = () => {
      clearTimeout(timer);
      over.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, ms);
    over.addEventListener('abort', done);
  });

/** Resolves to false when it is over before it is free. */
function untilFree(free: ReadonlySignal<boolean>, over: AbortSignal): Promise<boolean> {
  return new Promise((resolve) => {
    let stop: () => void = () => undefined;
    const done = (isFree: boolean) => {
      over.removeEventListener('abort', onOver);
      // A subscription calls back before there is anything to end it by.
      queueMicrotask(() => stop());
      resolve(isFree);
    };
    const onOver = () => done(false);
    if (over.aborted) {
      resolve(false);
      return;
    }
    over.addEventListener('abort', onOver);
    stop = free.subscribe((now) => {
      if (now) done(true);
    });
  });
}
