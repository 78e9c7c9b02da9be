import { fileNameOf, isPdf, pageAsked } from '../core/chart/naming.ts';
import { headOf } from '../host/head.ts';
import { pageParams, pageUrl, standParams } from '../host/pages.ts';
import { asProblem, ChartProblem, problemParams } from '../host/problem.ts';
import { openStore } from '../store/index.ts';
import { takeIn } from '../store/intake.ts';

/** Reads a file: address, which only a page of ours may do and only where the player has allowed it. */
async function bringIn(address: string): Promise<string> {
  const response = await fetch(address).catch(() => null);
  if (!response) throw new ChartProblem('file-tab-off', fileNameOf(address, null));
  const name = fileNameOf(address, null);
  const file = await response.blob();
  if (!isPdf(await headOf(file, name))) throw new ChartProblem('not-pdf', name);
  return takeIn(await openStore(), file, { name, url: address });
}

const address = pageParams(location.hash).get('url') ?? '';
// A page of ours that somebody opened by hand with another address fetches nothing.
const bringing = address.startsWith('file:')
  ? bringIn(address)
  : Promise.reject(new ChartProblem('no-address', address));
bringing.then(
  (chart) => location.replace(pageUrl('stand', standParams(chart, pageAsked(address)))),
  (error: unknown) => location.replace(pageUrl('tunes', problemParams(asProblem(error, address)))),
);
