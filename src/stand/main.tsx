import { computed, effect, signal, type Signal } from '@preact/signals';
import { createRef, render } from 'preact';
import { writtenBars } from '../core/chart/index.ts';
import { sameTurns, turnsOf } from '../core/chart/turn.ts';
import type { Marks, PageBox } from '../core/chart/types.ts';
import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import { pageParams, pageUrl } from '../host/pages.ts';
import { beginPage } from '../host/turn.ts';
import { connectAhead } from '../pdf/connect.ts';
import { NeedsPassword } from '../pdf/errors.ts';
import { openStore } from '../store/index.ts';
import type { Settings, Store } from '../store/types.ts';
import type { Handlers } from '../ui/commands.ts';
import { createKeys, learnLayout } from '../ui/keys.ts';
import { announce, LiveRegion } from '../ui/LiveRegion.tsx';
import { applyTheme } from '../ui/theme.ts';
import '../ui/theme.css';
import type { OpenChart } from './chart.ts';
import { chosen, kept, memoryOf, type Coming } from './coming.ts';
import { commands } from './commands.ts';
import { createDrillMode } from './drill/mode.tsx';
import { createMarksMode } from './marks/mode.tsx';
import { markFirst, markTurned } from './mark-found.ts';
import type { Mode, StandContext, StandView } from './mode.ts';
import { createOpening } from './opening.ts';
import {
  beginAnew,
  belonging,
  leaveOthers,
  newPart,
  openTune,
  searchedFrom,
  turnedPage,
  wantedPage,
} from './part.ts';
import { keepingProblem, openingProblem, Stopped } from './problems.ts';
import { othersOf } from './others.ts';
import { findAhead } from './find/finder.ts';
import { findTune, type FindOptions, type FoundTune } from './find/finding.ts';
import type { FileToFind } from './find/messages.ts';
import { createFoundPages } from './find/pages.ts';
import { Stand, type Reading, type Sheet } from './Stand.tsx';
import './stand.css';
import { createView } from './view/index.ts';

const html = document.documentElement;
const left = new AbortController();
addEventListener('pagehide', () => left.abort());

const modeOf = ({ plan }: ChartState) => (plan ? 'drill' : 'marks');

/** Puts the chart of the address on the stand, or the file that the tunes page handed over. */
async function open(given: unknown): Promise<void> {
  const root = document.getElementById('stand')!;
  const params = pageParams(location.hash);
  /** The line that says why there is no chart on the stand. */
  const fail = (error: unknown, name: string) => {
    html.dataset['state'] = 'failed';
    render(
      <p class="warning stand-line" role="alert">
        {openingProblem(error, name)} <a href={pageUrl('tunes')}>{t('stand_tunes')}</a>
      </p>,
      root,
    );
  };
  const store = openStore();
  const coming =
    given instanceof File ? chosen(store, given, left.signal) : kept(store, params.get('chart'), left.signal);
  try {
    await show(root, store, coming, params);
  } catch (error) {
    fail(error, coming.name());
    // The player can go on with it by loading the page again.
    if (error instanceof Stopped || error instanceof NeedsPassword) coming.chart().catch(() => undefined);
  }
}

/**
 * The page is drawn first: keeping and reading the chart, and what the rail needs, come after the first frame that
 * shows the page.
 */
async function show(
  root: HTMLElement,
  stored: Promise<Store>,
  coming: Coming,
  params: URLSearchParams,
): Promise<void> {
  const opening = createOpening(left.signal);
  const first = () => wantedPage(params, coming.known());
  const pdf = opening.read(coming.bytes, memoryOf(stored, coming), { first, turns: coming.turns });
  pdf.catch(() => undefined);
  const store = await stored;
  const settings = signal(await store.settings());
  applyTheme(settings);

  const chart = signal<OpenChart | null>(null);
  const mode = signal<{ name: 'marks' | 'drill'; mode: Mode } | null>(null);
  const sheet = signal<Sheet>(null);
  const line = signal<string | null>(null);
  const reading = signal<Reading | null>(null);
  const told = (error: unknown) => {
    line.value = keepingProblem(error);
  };
  const change = (part: Partial<Settings>) => {
    settings.value = { ...settings.value, ...part };
    store.setSettings(part).catch(told);
  };
  const own: Handlers = {
    theme: () => change({ theme: html.dataset['theme'] === 'stage' ? 'day' : 'stage' }),
    settings: () => (sheet.value = 'settings'),
    help: () => (sheet.value = 'help'),
  };
  const page = createRef<HTMLElement>();
  render(
    <>
      <Stand
        {...{ chart, mode, settings, change, sheet, line, opening, reading, page }}
        name={coming.name}
        handlers={own}
      />
      <LiveRegion />
    </>,
    root,
  );
  const file = await pdf;
  const state = coming.known();
  // The page is drawn as large as it will stay, where that is known.
  root.dataset['mode'] = state ? modeOf(state) : 'marks';
  left.signal.addEventListener('abort', () => void file.destroy());
  const view = await opening
    .draw(() =>
      createView(page.current!, file, {
        signal: opening.signal,
        first: first(),
        onUndrawable: (at) => (line.value = t('stand_page_left_out', at + 1)),
        undrawableText: t('stand_page_undrawable'),
      }),
    )
    .catch((error: unknown) => {
      void file.destroy();
      throw error;
    });
  effect(() => view.setLook({ ink: settings.value.ink, swapScans: settings.value.swapScans }));
  // Keeping a new file, and finding its bars, take room of their own.
  if (!state) await file.relieve(first()).catch(() => undefined);
  const opened = await coming.chart();

  const from = searchedFrom(params, file.pages.length);
  const toFind = async () => ({ bytes: await coming.bytes, password: file.password, turns: coming.turns() });
  const shown = signal(!document.hidden);
  const onShown = () => (shown.value = !document.hidden);
  document.addEventListener('visibilitychange', onShown, { signal: left.signal });
  const pages = createFoundPages({
    store,
    chart: opened,
    file: toFind,
    pages: file.pages.length,
    signal: left.signal,
    free: computed(() => shown.value && mode.value?.mode.sounds?.value !== true && reading.value === null),
  });
  const find = async (isAgain: boolean, turned: number | null = null) => {
    const options = {
      from,
      onPage: pages.add,
      ...(!isAgain && { known: pages.known }),
      ...(turned !== null && { only: withOwnPages(opened.state.peek(), turned), stays: turned }),
    };
    const found = await findOn(await toFind(), reading, options);
    return found && belonging(store, opened, found, turned !== null);
  };
  const another = (marks: Marks | null, on: number) =>
    newPart(store, opened, marks, on).catch((error: unknown) => {
      told(error);
      throw error;
    });
  const context: StandContext = {
    view,
    find: async () => (await find(true))?.marks ?? null,
    another,
    taken: async () => {
      const others = await othersOf(store, opened, turnsOf(opened.state.peek().marks?.marks));
      return others.flatMap(({ state: { name }, lines }) => lines.map((line) => ({ line, name })));
    },
    seen: pages.seen,
    likely: pages.likely,
    book: pages.book,
    async toTune(tune) {
      const found = await pages.book.tune(tune);
      if (found) await openTune(store, opened, found).catch(told);
    },
    chart: opened.key,
    state: opened.state,
    writing: opened.writing,
    append: (bodies) =>
      opened.append(bodies).catch((error: unknown) => {
        told(error);
        throw error;
      }),
    refresh: opened.refresh,
    announce,
    warn: (text) => (line.value = text),
    async turning(keep, page) {
      anewAt = { chart: opened.key, marks: '', ...(page !== undefined && { turned: String(page) }) };
      await keep().catch(() => undefined);
      anewAt = null;
    },
    go,
  };
  function go(name: 'marks' | 'drill'): void {
    mode.value?.mode.leave();
    const made =
      name === 'marks'
        ? createMarksMode(context, settings)
        : // The drill says itself what was not kept, for as long as it stands still over it.
          createDrillMode({ ...context, append: opened.append }, settings);
    mode.value = { name, mode: made };
    root.dataset['mode'] = name;
    view.setOverlay(made.overlay);
    if (name !== 'marks' || params.has('page')) return;
    if (turnedPage(params) === null) toFirstLine(view, opened.state.peek(), from);
    else view.zoomTo('width');
  }
  const zoom = (by: number) => () => view.zoomTo(view.scale.value * by);
  Object.assign(own, {
    'zoom-in': zoom(1.2),
    'zoom-out': zoom(1 / 1.2),
    'zoom-page': () => view.zoomTo('page'),
    marks: () => go('marks'),
  } satisfies Handlers);
  const handlers = (): Handlers => ({ ...own, ...mode.value?.mode.handlers });
  chart.value = opened;
  effect(() => {
    const { name, marks } = opened.state.value;
    document.title = name;
    root.dataset['bars'] = String(marks ? writtenBars(marks.marks).length : 0);
  });
  void learnLayout();
  createKeys({ commands, handlers, settings: () => settings.value, signal: left.signal });
  const turned = turnedPage(params);
  if (turned !== null) {
    const isLookedAt = await markTurned(opened, turned, () => find(false, turned)).catch(told);
    // Of several pages in view it could have been another.
    if (isLookedAt && file.pages.length > 1) line.value = t('stand_turned', turned + 1);
  } else if (settings.peek().findBars) {
    const isPart = params.has('from');
    const isMarked = await markFirst(opened, () => find(false), isPart).catch(told);
    if (isMarked && isPart) await leaveOthers(store, opened).catch(told);
  }
  /** Where the stand begins anew; null: where it is. */
  let anewAt: Record<string, string> | null = null;
  // Everything on the stand is drawn on pages as they are turned: where they turn it begins anew.
  const isTurned = () => !sameTurns(turnsOf(opened.state.value.marks?.marks), coming.turns());
  effect(() => {
    if (!isTurned()) return;
    if (anewAt !== null) history.replaceState(null, '', pageUrl('stand', anewAt));
    beginAnew();
  });
  if (isTurned()) return;
  // Marks that were proposed are looked at first.
  go(params.has('marks') ? 'marks' : modeOf(opened.state.value));
  html.dataset['state'] = 'ready';
  if (params.has('begin')) handlers().begin?.('touch');
  const { document: hash } = opened.state.value;
  if (hash !== null) store.setPages(hash, file.pages).catch(told);
  if (settings.peek().findBars) pages.book.start().catch(() => undefined);
}

/** The pages that a chart has music on, and one more, in order. */
const withOwnPages = ({ marks }: ChartState, page: number): number[] =>
  [...new Set([...(marks?.marks.systems ?? []).map((line) => line.page), page])].sort((a, b) => a - b);

/** Reads the chart's pages for its bars; `reading` says how far it is and stops it. */
async function findOn(
  file: FileToFind,
  reading: Signal<Reading | null>,
  options: Omit<FindOptions, 'signal' | 'onProgress'>,
): Promise<FoundTune | null> {
  const stopped = new AbortController();
  const say = (text: string) => (reading.value = { text, stop: () => stopped.abort() });
  say(t('stand_finding'));
  try {
    return await findTune(file, {
      ...options,
      signal: AbortSignal.any([left.signal, stopped.signal]),
      onProgress: (done, pages) => {
        if (pages > 1) say(t('stand_finding_page', done, pages));
      },
    });
  } finally {
    reading.value = null;
  }
}

/** Marks are set at the width of the page, where the chart's music begins. */
function toFirstLine(view: StandView, { marks }: ChartState, from: number): void {
  view.zoomTo('width');
  const first = marks?.marks.systems[0];
  const page = Math.min(first?.page ?? from, view.pages - 1);
  // At the top of its file a chart is where the page already stands.
  if (page === 0 && (first?.top ?? 0) < 0.5) return;
  const box: PageBox = [0, first?.top ?? 0, 1, first?.bottom ?? 0.1];
  const place = { page, box, reach: box };
  view.follow(place, place);
}

beginPage(
  'stand',
  (given) => void open(given),
  () => {
    connectAhead();
    findAhead();
  },
);
