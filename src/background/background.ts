import { fileNameOf, mayBePdf } from '../core/chart/naming.ts';
import { onActionClicked, onFirstInstall, whileBusy, type ClickedTab } from '../host/action.ts';
import { onFetchRequest } from '../host/messages.ts';
import { openPage } from '../host/pages.ts';
import { hasHost, hostPattern, needsGrant, requestHost } from '../host/permissions.ts';
import { asProblem, ChartProblem, problemParams } from '../host/problem.ts';
import { openStore } from '../store/index.ts';
import { takeIn } from '../store/intake.ts';
import { fetchPdf } from './fetch-pdf.ts';

const notGranted = (address: string) =>
  new ChartProblem('no-grant', fileNameOf(address, null), new URL(address).host);

/** Fetches a chart and keeps it. Resolves to its key; throws ChartProblem. */
async function bringIn(address: string): Promise<string> {
  try {
    const { bytes, name, url } = await fetchPdf(address);
    return await takeIn(await openStore(), bytes, { name, url });
  } catch (error) {
    throw asProblem(error, address);
  }
}

/** An http(s) tab: `asked` settles once the player has answered for that site, null where nobody asked. */
async function openTab(address: string, tab: ClickedTab, asked: Promise<boolean> | null): Promise<void> {
  if ((await asked) === false) {
    return openPage('tunes', problemParams(notGranted(address)), tab.id);
  }
  try {
    const chart = await whileBusy(() => bringIn(address));
    await openPage('stand', { chart }, tab.id);
  } catch (error) {
    const problem = asProblem(error, address);
    // The button on any other page is the way to the tunes, not a mistake.
    const plainPage = !/\.pdf\b/i.test(address) && /^(not-pdf|empty|http|unreachable)$/.test(problem.code);
    await openPage('tunes', plainPage ? {} : problemParams(problem), tab.id);
  }
}

function openOther(address: string, tab: ClickedTab): Promise<void> {
  if (address.startsWith('file:'))
    return needsGrant
      ? openPage('tunes', problemParams(new ChartProblem('file-tab', address)), tab.id)
      : openPage('opener', { url: address }, tab.id);
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
  if (mayBePdf(address)) return void openTab(address, tab, requestHost(address));
  void openPage('tunes', {}, tab.id);
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
