import { fileNameOf, mayBePdf } from '../core/chart/naming.ts';
import { onActionClicked, onFirstInstall, whileBusy, type ClickedTab } from '../host/action.ts';
import { onLinkChosen } from '../host/menu.ts';
import { onFetchRequest } from '../host/messages.ts';
import { openPage } from '../host/pages.ts';
import { hasHost, hostPattern, needsGrant, requestFiles, requestHost } from '../host/permissions.ts';
import { asProblem, ChartProblem, problemParams } from '../host/problem.ts';
import { openStore } from '../store/index.ts';
import { takeIn } from '../store/intake.ts';
import { fetchPdf } from './fetch-pdf.ts';

const notGranted = (address: string) =>
  new ChartProblem('no-grant', fileNameOf(address, null), new URL(address).host);

/** Fetches a chart and keeps it. Resolves to its key; throws ChartProblem. */
async function bringIn(address: string): Promise<string> {
  try {
    const { bytes, name, url } = await fetchPdf(address, hasHost);
    return await takeIn(await openStore(), bytes, { name, url });
  } catch (error) {
    throw asProblem(error, address);
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
  if ((await asked) === false) {
    return openPage('tunes', problemParams(notGranted(address)), tab.id);
  }
  try {
    const chart = await whileBusy(() => bringIn(address));
    await openPage('stand', { chart }, tab.id);
  } catch (error) {
    const problem = asProblem(error, address);
    // The button on any other page is the way to the tunes, not a mistake.
    const plainPage =
      !named && !/\.pdf\b/i.test(address) && /^(not-pdf|empty|http|unreachable)$/.test(problem.code);
    await openPage('tunes', plainPage ? {} : problemParams(problem), tab.id);
  }
}

/** A tab with a file. Firefox hands none over, whatever the player grants. */
async function openFile(address: string, tab: Pick<ClickedTab, 'id'>): Promise<void> {
  const about = fileNameOf(address, null);
  if (needsGrant) return openPage('tunes', problemParams(new ChartProblem('file-tab', about)), tab.id);
  return (await requestFiles())
    ? openPage('opener', { url: address }, tab.id)
    : openPage('tunes', problemParams(new ChartProblem('file-tab-off', about)), tab.id);
}

function openOther(address: string, tab: Pick<ClickedTab, 'id'>): Promise<void> {
  if (address.startsWith('file:')) return openFile(address, tab);
  const blob = address.startsWith('blob:') || address.startsWith('data:');
  return openPage(
    'tunes',
    blob ? problemParams(new ChartProblem('page-blob', address.slice(0, 60))) : {},
    tab.id,
  );
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

onFetchRequest(async (address) => {
  try {
    if (hostPattern(address) === null) throw new ChartProblem('no-address', address);
    if (!(await hasHost(address))) throw notGranted(address);
    return { chart: await whileBusy(() => bringIn(address)) };
  } catch (error) {
    return { problem: problemParams(asProblem(error, address)) };
  }
});

onFirstInstall(() => void openPage('tunes'));
