import { fileNameOf, mayBePdf, pageAsked } from '../core/chart/naming.ts';
import { onActionClicked, onFirstInstall, whileBusy, type ClickedTab } from '../host/action.ts';
import { onLinkChosen } from '../host/menu.ts';
import { onFetchAsked, type FetchAnswer } from '../host/messages.ts';
import { openPage, standParams } from '../host/pages.ts';
import {
  FILES,
  hasHost,
  hostPattern,
  isTakenBack,
  needsGrant,
  requestFiles,
  requestHost,
  withdraw,
} from '../host/permissions.ts';
import {
  asProblem,
  ChartProblem,
  notGranted,
  pageBlob,
  problemParams,
  type ProblemCode,
} from '../host/problem.ts';
import { openStore } from '../store/index.ts';
import { bring, type Bringing } from './bringing.ts';

/** What takes longer is followed on the tunes page, which tells how far it is and can stop it, ms. */
const QUICK = 1200;

/** By address: begun by a press, and now waiting for that page. */
const followed = new Map<string, { readonly bringing: Bringing; readonly answer: Promise<FetchAnswer> }>();

/** A grant that the browser gave without a question, though the player had taken it back, is given back. */
async function gaveAgain(pattern: string | null): Promise<boolean> {
  const { takenBack } = await (await openStore()).settings();
  if (pattern === null || !isTakenBack(takenBack, pattern)) return false;
  await withdraw(pattern);
  return true;
}

/** The chart's key, or what the tunes page is to say. */
async function answerOf({ chart }: Bringing, address: string, named: boolean): Promise<FetchAnswer> {
  try {
    return { chart: await whileBusy(() => chart) };
  } catch (error) {
    const problem = asProblem(error, address);
    // The button on any other page is the way to the tunes, not a mistake.
    const plain: readonly ProblemCode[] = ['not-pdf', 'empty', 'http', 'unreachable'];
    const plainPage = !named && !/\.pdf\b/i.test(address) && plain.includes(problem.code);
    return { problem: plainPage ? {} : problemParams(problem) };
  }
}

/**
 * An http(s) address: `asked` settles once the player has answered for that site, null where nobody asked. `named`:
 * the player pointed at it, and is told whatever went wrong.
 */
async function openTab(
  address: string,
  tab: Pick<ClickedTab, 'id'>,
  asked: Promise<boolean> | null,
  named = false,
): Promise<void> {
  if (asked !== null) {
    if (!(await asked)) return openPage('tunes', problemParams(notGranted(address)), tab.id);
    // The tunes page asks anew.
    if (await gaveAgain(hostPattern(address))) return openPage('tunes', { link: address }, tab.id);
  }
  const bringing = bring(address);
  const answer = answerOf(bringing, address, named);
  const late = new Promise<null>((resolve) => setTimeout(() => resolve(null), QUICK));
  const quick = await Promise.race([answer, late]);
  if (quick === null) {
    followed.set(address, { bringing, answer });
    return openPage('tunes', { fetch: address }, tab.id);
  }
  if ('chart' in quick) return openPage('stand', standParams(quick.chart, pageAsked(address)), tab.id);
  return openPage('tunes', quick.problem, tab.id);
}

/** A tab with a file. Firefox hands none over, whatever the player grants. */
async function openFile(address: string, tab: Pick<ClickedTab, 'id'>): Promise<void> {
  const about = fileNameOf(address, null);
  if (needsGrant) return openPage('tunes', problemParams(new ChartProblem('file-tab', about)), tab.id);
  if (!(await requestFiles()))
    return openPage('tunes', problemParams(new ChartProblem('file-tab-off', about)), tab.id);
  return (await gaveAgain(FILES))
    ? openPage('tunes', problemParams(new ChartProblem('file-taken-back', about)), tab.id)
    : openPage('opener', { url: address }, tab.id);
}

function openOther(address: string, tab: Pick<ClickedTab, 'id'>): Promise<void> {
  if (address.startsWith('file:')) return openFile(address, tab);
  const blob = pageBlob(address);
  return openPage('tunes', blob ? problemParams(blob) : {}, tab.id);
}

onActionClicked((tab) => {
  const address = tab.url ?? '';
  if (hostPattern(address) === null) return void openOther(address, tab);
  // Nothing may be awaited before this: the browser answers only to the click itself.
  if (!needsGrant) return void openTab(address, tab, null);
  // Firefox's viewer puts the file's name into the title, also where the address does not tell it.
  if (mayBePdf(address) || /\.pdf$/i.test(tab.title ?? ''))
    return void openTab(address, tab, requestHost(address));
  void openPage('tunes', {}, tab.id);
});

onLinkChosen((link, page) => {
  const tab = { id: page.id };
  if (hostPattern(link) === null) return void openOther(link, tab);
  // Choosing from its menu lends the page's own site to the extension, where the browser lends at all.
  const lent = !needsGrant && page.url !== undefined && hostPattern(page.url) === hostPattern(link);
  void openTab(link, tab, lent ? null : requestHost(link), true);
});

onFetchAsked(async (address, { signal, onProgress }) => {
  const held = followed.get(address);
  followed.delete(address);
  const problem = (error: ChartProblem) => ({ problem: problemParams(error) });
  if (!held) {
    if (hostPattern(address) === null) return problem(new ChartProblem('no-address', address));
    if (!(await hasHost(address))) return problem(notGranted(address));
  }
  const bringing = held?.bringing ?? bring(address);
  bringing.follow(onProgress);
  signal.addEventListener('abort', () => bringing.stop(), { once: true });
  return held?.answer ?? answerOf(bringing, address, true);
});

onFirstInstall(() => void openPage('tunes'));
