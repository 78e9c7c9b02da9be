import { effect, signal, type Signal } from '@preact/signals';
import { render } from 'preact';
import { t } from '../host/i18n.ts';
import { pageParams } from '../host/pages.ts';
import { openPdf } from '../pdf/open.ts';
import { openStore } from '../store/index.ts';
import type { Settings, Store } from '../store/types.ts';
import type { Handlers } from '../ui/commands.ts';
import { createKeys, learnLayout } from '../ui/keys.ts';
import { announce, LiveRegion } from '../ui/LiveRegion.tsx';
import { applyTheme } from '../ui/theme.ts';
import '../ui/theme.css';
import { openChart, type OpenChart } from './chart.ts';
import { commands } from './commands.ts';
import { createDrillMode } from './drill/mode.tsx';
import { createMarksMode } from './marks/mode.tsx';
import type { Mode, StandContext, StandView } from './mode.ts';
import { CannotOpen, keepingProblem, openingProblem } from './problems.ts';
import { Stand, type Sheet } from './Stand.tsx';
import './stand.css';
import { createView } from './view/index.ts';

const root = document.getElementById('stand')!;
const html = document.documentElement;
const left = new AbortController();
addEventListener('pagehide', () => left.abort());

/** The line that says why there is no chart on the stand. */
function fail(text: string): void {
  html.dataset['state'] = 'failed';
  render(
    <p class="warning stand-line" role="alert">
      {text}
    </p>,
    root,
  );
}

async function open(): Promise<void> {
  const params = pageParams(location.hash);
  const key = params.get('chart');
  let name = '';
  try {
    if (!key) throw new CannotOpen(t('stand_no_chart'));
    const store = await openStore();
    const settings = signal(await store.settings());
    applyTheme(settings);
    render(<p class="stand-opening">{t('stand_opening')}</p>, root);
    const chart = await openChart(store, key, left.signal);
    name = chart.state.value.name;
    await show(store, chart, settings, params.has('begin'));
  } catch (error) {
    fail(openingProblem(error, name));
  }
}

async function show(
  store: Store,
  chart: OpenChart,
  settings: Signal<Settings>,
  begin: boolean,
): Promise<void> {
  const file = await openPdf(chart.bytes, {
    signal: left.signal,
    onProgress: (share) =>
      render(<p class="stand-opening">{t('stand_opening_share', Math.round(100 * share))}</p>, root),
  });
  const document_ = chart.state.value.document;
  if (document_ !== null) await store.setPages(document_, file.pages);

  const mode = signal<{ name: 'marks' | 'drill'; mode: Mode } | null>(null);
  const sheet = signal<Sheet>(null);
  const line = signal<string | null>(null);
  let view: StandView | null = null;

  const change = (part: Partial<Settings>) => {
    settings.value = { ...settings.value, ...part };
    store.setSettings(part).catch((error: unknown) => (line.value = keepingProblem(error)));
  };
  const context = (): StandContext => ({
    view: view!,
    chart: chart.key,
    state: chart.state,
    writing: chart.writing,
    append: (bodies) =>
      chart.append(bodies).catch((error: unknown) => {
        line.value = keepingProblem(error);
        throw error;
      }),
    refresh: chart.refresh,
    announce,
    warn: (text) => (line.value = text),
    go,
  });
  function go(name: 'marks' | 'drill'): void {
    mode.value?.mode.leave();
    const made = name === 'marks' ? createMarksMode(context()) : createDrillMode(context(), settings);
    mode.value = { name, mode: made };
    root.dataset['mode'] = name;
    view!.setOverlay(made.overlay);
    if (name === 'marks') view!.zoomTo('width');
  }
  const zoom = (by: number) => () => view?.zoomTo(view.scale.value * by);
  let turn = 0;
  const own = {
    'zoom-in': zoom(1.2),
    'zoom-out': zoom(1 / 1.2),
    'zoom-page': () => view?.zoomTo('page'),
    rotate: () => view?.rotate((turn = (turn + 90) % 360)),
    theme: () => change({ theme: html.dataset['theme'] === 'stage' ? 'day' : 'stage' }),
    marks: () => go('marks'),
    settings: () => (sheet.value = 'settings'),
    help: () => (sheet.value = 'help'),
  };
  const handlers = (): Handlers => ({ ...own, ...mode.value?.mode.handlers });

  const onPage = (element: HTMLElement) => {
    createView(element, file, { signal: left.signal })
      .then((made) => {
        view = made;
        go(chart.state.value.plan ? 'drill' : 'marks');
        html.dataset['state'] = 'ready';
        if (begin) handlers().begin?.('touch');
      })
      .catch((error: unknown) => fail(openingProblem(error, chart.state.value.name)));
  };
  effect(() => {
    document.title = chart.state.value.name;
  });
  void learnLayout();
  createKeys({ commands, handlers, settings: () => settings.value, signal: left.signal });
  render(
    <>
      <Stand
        chart={chart}
        mode={mode}
        handlers={own}
        settings={settings}
        change={change}
        sheet={sheet}
        line={line}
        onPage={onPage}
      />
      <LiveRegion />
    </>,
    root,
  );
}

void open();
