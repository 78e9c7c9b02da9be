import { render } from 'preact';
import { t } from '../host/i18n.ts';
import { pageParams } from '../host/pages.ts';
import { hostPattern } from '../host/permissions.ts';
import { asProblem } from '../host/problem.ts';
import { beginPage, onTurn, readAhead } from '../host/turn.ts';
import { openStore } from '../store/index.ts';
import { LiveRegion } from '../ui/LiveRegion.tsx';
import { applyTheme } from '../ui/theme.ts';
import '../ui/theme.css';
import { Page } from './Page.tsx';
import { Warning } from './Lines.tsx';
import { openShelf } from './shelf.ts';
import './tunes.css';

const html = document.documentElement;

async function open(): Promise<void> {
  const root = document.getElementById('tunes')!;
  document.title = t('tunes_title');
  try {
    const store = await openStore();
    const params = pageParams(location.hash);
    const shelf = await openShelf(store, params);
    // Told once: a reload is not the same mishap again.
    if (location.hash) history.replaceState(null, '', location.pathname);
    applyTheme(shelf.settings);
    await shelf.refresh();
    const readAnew = () => void Promise.all([shelf.refresh(), shelf.look()]).catch(() => undefined);
    // The stand in another tab may have moved on meanwhile.
    document.addEventListener(
      'visibilitychange',
      () => {
        if (!document.hidden) readAnew();
      },
      { signal: onTurn },
    );
    window.addEventListener(
      'pageshow',
      (event) => {
        if (event.persisted) readAnew();
      },
      { signal: onTurn },
    );
    onTurn.addEventListener('abort', () => {
      render(null, root);
      store.close();
    });
    render(
      <>
        <Page shelf={shelf} />
        <LiveRegion />
      </>,
      root,
    );
    html.dataset['state'] = 'ready';
    const [begun, link] = [params.get('fetch'), params.get('link')];
    if (begun !== null) void shelf.sites.follow(begun);
    // The site was taken back: it waits for a yes.
    if (link !== null && hostPattern(link) !== null) shelf.sites.again.value = link;
    requestAnimationFrame(() =>
      setTimeout(() => {
        performance.mark('tunes-shown');
        // The list is shown first.
        void shelf.look().catch(() => undefined);
      }),
    );
    // A chart just chosen should find the stand ready.
    requestIdleCallback(() => void readAhead('stand').catch(() => undefined));
  } catch (error) {
    html.dataset['state'] = 'failed';
    render(<Warning problem={asProblem(error, t('tunes_title'))} />, root);
  }
}

beginPage('tunes', () => void open());
