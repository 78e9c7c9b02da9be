/**
 * One of our pages turns into another without being loaded anew. What the other one needs has been read and run
 * ahead, so that a file just chosen stands on the stand as soon as it can be drawn.
 */
import { pageUrl, type Page } from './pages.ts';

/** Begins a page; `given` is what the page before handed over, null when there was none. */
type Begin = (given: unknown) => void;

const begins = new Map<Page, Begin>();
const turned = new AbortController();
let shown = location.pathname;
const ahead = new Map<Page, Promise<Ahead>>();

/** A page that is ready to be turned to. */
interface Ahead {
  readonly nodes: readonly Node[];
  readonly styles: readonly HTMLLinkElement[];
}

const pathOf = (page: Page) => new URL(pageUrl(page)).pathname;

// Going back leads to an address that this page no longer, or not yet, is.
addEventListener('popstate', () => {
  if (location.pathname !== shown) location.reload();
});

/** Aborts when this page turns into another. */
export const onTurn: AbortSignal = turned.signal;

/**
 * Says how a page begins: now when this is the page, else as soon as another turns into it; `prepare` is then done
 * ahead.
 */
export function beginPage(page: Page, begin: Begin, prepare: () => void = () => undefined): void {
  if (pathOf(page) === shown) {
    begin(null);
    return;
  }
  begins.set(page, begin);
  prepare();
}

function loaded<E extends HTMLElement>(element: E): Promise<E> {
  const done = new Promise<E>((resolve, reject) => {
    element.addEventListener('load', () => resolve(element), { once: true });
    element.addEventListener('error', () => reject(new Error('a part of the page is missing')), {
      once: true,
    });
  });
  document.head.append(element);
  return done;
}

async function read(page: Page): Promise<Ahead> {
  const url = pageUrl(page);
  const html = new DOMParser().parseFromString(await (await fetch(url)).text(), 'text/html');
  const address = (element: Element, name: string) => new URL(element.getAttribute(name) ?? '', url).href;
  const here = [...document.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]')];
  const styles = [...html.querySelectorAll('link[rel="stylesheet"]')].map((link) => {
    const href = address(link, 'href');
    const held = here.find((each) => each.href === href);
    // It is loaded, but holds for nothing until the page is turned.
    const made = { rel: 'stylesheet', href, media: 'not all' };
    return held ? Promise.resolve(held) : loaded(Object.assign(document.createElement('link'), made));
  });
  const scripts = [...html.querySelectorAll('script[src]')].map((script) =>
    loaded(Object.assign(document.createElement('script'), { type: 'module', src: address(script, 'src') })),
  );
  await Promise.all(scripts);
  return { nodes: [...html.body.childNodes], styles: await Promise.all(styles) };
}

/** Reads and runs what another page needs, so that `turnTo` need not wait for it. */
export function readAhead(page: Page): Promise<unknown> {
  const reading = ahead.get(page) ?? read(page);
  ahead.set(page, reading);
  // What failed is tried again when it is needed.
  reading.catch(() => ahead.delete(page));
  return reading;
}

/** Turns this page into another and hands `given` over. Going back loads this one anew. */
export async function turnTo(page: Page, given: unknown): Promise<void> {
  const { nodes, styles } = (await readAhead(page)) as Ahead;
  const begin = begins.get(page);
  if (!begin) throw new Error(`the ${page} does not say how it begins`);
  turned.abort();
  history.pushState(null, '', pageUrl(page));
  shown = location.pathname;
  document.documentElement.dataset['state'] = 'loading';
  for (const link of document.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]'))
    if (styles.includes(link)) link.media = 'all';
    else link.remove();
  document.body.replaceChildren(...nodes);
  begin(given);
}
