/** What was found on a chart's file: kept beside it, learned from, and the rest of the file found in the background. */
import { computed, effect, signal, type ReadonlySignal } from '@preact/signals';
import { seenSystems, type SeenSystem } from '../../core/find/teach/index.ts';
import { turnOn, turnsOf } from '../../core/chart/turn.ts';
import type { Turn } from '../../core/chart/types.ts';
import type { Likely } from '../../core/find/chart/likely.ts';
import type { Store } from '../../store/types.ts';
import type { OpenChart } from '../chart.ts';
import { createBook, type Book } from './book.ts';
import { createLikely } from './likely.ts';
import type { Looked } from './lying.ts';
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
  /** Stretches of them that look alike, as soon as they have been compared. */
  readonly likely: ReadonlySignal<readonly Likely[]>;
  readonly book: Book;
  /** What was found on a page before. */
  readonly known: (index: number) => Promise<Looked | null>;
  /** A page that has been read. */
  readonly add: (looked: Looked) => void;
}

const TURNS = [0, 90, 180, 270] as const satisfies readonly Turn[];

export function createFoundPages(options: FoundPagesOptions): FoundPages {
  const { store, chart, file, signal: left } = options;
  const found = signal<ReadonlyMap<number, Looked>>(new Map());
  /** Pages that lie otherwise are other pages. `byItself`: the page was turned because its music stands upright so. */
  const key = (turn: Turn, byItself: boolean) => {
    const document = chart.state.peek().document ?? '';
    if (byItself) return `${document} upright ${turn}`;
    return turn === 0 ? document : `${document} turned ${turn}`;
  };
  const turnOf = async (index: number) => turnOn((await file()).turns, index);
  const read = async (index: number): Promise<Looked | null> => {
    const own = await turnOf(index);
    const [page, ...upright] = await Promise.all([
      store.foundPage(key(own, false), index),
      ...TURNS.map((turn) => store.foundPage(key(turn, true), index)),
    ]);
    const asItLies = page && { page, turn: own };
    if (asItLies && asItLies.page.systems.length > 0) return asItLies;
    const turned = upright.flatMap((one, i) => (one ? [{ page: one, turn: TURNS[i]! }] : []));
    return turned[0] ?? asItLies;
  };
  const known = async (index: number) => found.peek().get(index) ?? read(index);
  const put = (looked: Looked) => (found.value = new Map(found.peek()).set(looked.page.page, looked));
  // It is a help: where there is no room for it, the page is found anew another time.
  const keep = async ({ page, turn }: Looked) => {
    const byItself = turn !== (await turnOf(page.page));
    await store.keepFound(key(turn, byItself), page).catch(() => undefined);
  };
  const briefs = async () => {
    const { turns } = await file();
    const all = await Promise.all(
      TURNS.map(async (turn) => {
        const [lying, upright] = await Promise.all([
          store.foundBriefs(key(turn, false)),
          store.foundBriefs(key(turn, true)),
        ]);
        return [upright, lying.filter(({ page }) => turnOn(turns, page) === turn)] as const;
      }),
    );
    // What was found on a page as it lies counts, where that is any music.
    const [turned, lying] = [all.flatMap(([one]) => one), all.flatMap(([, one]) => one)];
    const bare = lying.filter(({ lines }) => lines.length === 0);
    return [...bare, ...turned, ...lying.filter(({ lines }) => lines.length > 0)];
  };
  const ownPages = computed(() => new Set(chart.state.value.marks?.marks.systems.map(({ page }) => page)));
  const isSeen = (page: number, turn: Turn) =>
    ownPages.value.has(page) && turnOn(turnsOf(chart.state.value.marks?.marks), page) === turn;
  const book = createBook({
    ...options,
    briefs,
    page: known,
    async keep(looked) {
      if (ownPages.peek().has(looked.page.page)) put(looked);
      await keep(looked);
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
  /** The chart's pages as they lie in it, in order. */
  const own = computed(() =>
    [...found.value.values()]
      .flatMap(({ page, turn }) => (isSeen(page.page, turn) ? [page] : []))
      .sort((a, b) => a.page - b.page),
  );
  const whole = computed(() => (own.value.length === ownPages.value.size ? own.value : []));
  return {
    seen: computed(() => seenSystems(own.value)),
    likely: createLikely(whole, left),
    book,
    known,
    add(looked) {
      put(looked);
      book.add(looked);
      void keep(looked);
    },
  };
}
