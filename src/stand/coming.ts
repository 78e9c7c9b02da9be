import { turnOf } from '../core/chart/turn.ts';
import type { Turn } from '../core/chart/types.ts';
import { chartName } from '../core/chart/naming.ts';
import type { ChartKey } from '../core/log/events.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import { asProblem, problemParams } from '../host/problem.ts';
import { takeIn } from '../store/intake.ts';
import type { Store } from '../store/types.ts';
import { bytesOf, knownChart, openChart, type OpenChart } from './chart.ts';
import type { Memory } from './opening.ts';
import { CannotOpen } from './problems.ts';

/** A larger file is not read, bytes: it is held in memory more than once on its way to the page. */
const LARGEST_FILE = 512 * 2 ** 20;

/** What is on its way to the stand: the PDF's bytes, and the chart, which may take longer. */
export interface Coming {
  readonly name: () => string;
  readonly bytes: Promise<Blob>;
  readonly chart: Promise<OpenChart>;
  /** How far its pages are turned, as far as is known once the bytes are there. */
  readonly turn: () => Turn;
}

/** The password of the chart's file, beside the file. Waits for the chart: only locked files ask for it. */
export function memoryOf(store: Promise<Store>, { chart }: Coming): Memory {
  const hash = async () => (await chart).state.peek().document ?? '';
  return {
    recall: async () => (await store).password(await hash()),
    keep: async (password) => (await store).keepPassword(await hash(), password),
  };
}

/** A chart that is kept, by the key in the address. */
export function kept(store: Promise<Store>, key: ChartKey | null, left: AbortSignal): Coming {
  let name = '';
  let turn: Turn = 0;
  const known = (async () => {
    if (!key) throw new CannotOpen(t('stand_no_chart'));
    const state = await knownChart(await store, key);
    name = state.name;
    turn = turnOf(state.marks?.marks);
    return state;
  })();
  return {
    name: () => name,
    turn: () => turn,
    bytes: known.then(async (state) => bytesOf(await store, state)),
    chart: known.then(async (state) => openChart(await store, state, left)),
  };
}

/** A file just chosen: it is drawn while it is being kept. */
export function chosen(store: Promise<Store>, file: File, left: AbortSignal): Coming {
  if (file.size > LARGEST_FILE) {
    const size = t('stand_megabytes', Math.round(file.size / 2 ** 20));
    const refused = Promise.reject(new CannotOpen(t('stand_too_large', file.name, size)));
    return { name: () => file.name, turn: () => 0, bytes: refused, chart: refused };
  }
  const keep = async () => {
    try {
      const bytes = new Uint8Array(await file.arrayBuffer());
      return await takeIn(await store, bytes, { name: file.name });
    } catch (error) {
      // Nothing can be practised that is not kept: the tunes page says what to do.
      location.replace(pageUrl('tunes', problemParams(asProblem(error, file.name))));
      return new Promise<never>(() => undefined);
    }
  };
  const chart = keep().then(async (key) => {
    history.replaceState(null, '', pageUrl('stand', { chart: key }));
    return openChart(await store, await knownChart(await store, key), left);
  });
  return { name: () => chartName(file.name), turn: () => 0, bytes: Promise.resolve(file), chart };
}
