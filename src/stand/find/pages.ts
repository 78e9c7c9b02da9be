/** What was found on a chart's file: kept beside it, learned from, and the rest of the file found in the background. */
import { computed, effect, signal, type ReadonlySignal } from '@preact/signals';
import { seenSystems, type SeenSystem } from '../../core/find/teach/index.ts';
import type { FoundPage } from '../../core/find/types.ts';
import type { Store } from '../../store/types.ts';
import type { OpenChart } from '../chart.ts';
import { createBook, type Book } from './book.ts';
import type { FileToFind } from './messages.ts';

export interface FoundPagesOptions {
  readonly store: Store;
  readonly chart: OpenChart;
  readonly file: () => Promise<FileToFind>;
  readonly pages: number;
  readonly signal: AbortSignal;
  /** Nothing else asks for the machine: see `Book`. */
  readonly free: ReadonlySignal<boolean>;
}

export interface FoundPages {
  /** What was seen at the lines of music of this chart's pages. */
  readonly seen: ReadonlySignal<readonly SeenSystem[]>;
  readonly book: Book;
  /** What was found on a page before. */
  readonly known: (index: number) => Promise<FoundPage | null>;
  /** A page that has been read. */
  readonly add: (page: FoundPage) => void;
}

export function createFoundPages(options: FoundPagesOptions): FoundPages {
  const { store, chart, file, signal: left } = options;
  const found = signal<ReadonlyMap<number, FoundPage>>(new Map());
  /** Pages that lie otherwise are other pages. */
  const key = async () => {
    const { document } = chart.state.peek();
    const { turn } = await file();
    return turn === 0 ? (document ?? '') : `${document} turned ${turn}`;
  };
  const known = async (index: number) => found.peek().get(index) ?? store.foundPage(await key(), index);
  const put = (page: FoundPage) => (found.value = new Map(found.peek()).set(page.page, page));
  // It is a help: where there is no room for it, the page is found anew another time.
  const keep = async (page: FoundPage) => store.keepFound(await key(), page).catch(() => undefined);
  const ownPages = computed(() => new Set(chart.state.value.marks?.marks.systems.map(({ page }) => page)));
  const book = createBook({
    ...options,
    briefs: async () => store.foundBriefs(await key()),
    page: known,
    async keep(page) {
      if (ownPages.peek().has(page.page)) put(page);
      await keep(page);
    },
  });
  const stop = effect(() => {
    for (const page of ownPages.value)
      if (!found.peek().has(page))
        void known(page).then(
          (one) => one && put(one),
          () => undefined,
        );
  });
  left.addEventListener('abort', stop);
  return {
    seen: computed(() =>
      seenSystems([...found.value.values()].filter(({ page }) => ownPages.value.has(page))),
    ),
    book,
    known,
    add(page) {
      put(page);
      book.add(page);
      void keep(page);
    },
  };
}
