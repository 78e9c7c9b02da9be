import { NOT_TURNED, turnsOf } from '../core/chart/turn.ts';
import type { Turns } from '../core/chart/types.ts';
import { chartName } from '../core/chart/naming.ts';
import type { ChartKey } from '../core/log/events.ts';
import type { Folded } from '../core/log/fold.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import { asProblem, problemParams } from '../host/problem.ts';
import { LARGEST_FILE, takeIn } from '../store/intake.ts';
import type { Store } from '../store/types.ts';
import { bytesOf, knownChart, openChart, type OpenChart } from './chart.ts';
import type { Memory } from './opening.ts';
import { CannotOpen } from './problems.ts';

/** What is on its way to the stand: the PDF's bytes, and the chart, which may take longer. */
export interface Coming {
  readonly name: () => string;
  readonly bytes: Promise<Blob>;
  /** Where the chart stands, as far as that is known without reading all of its file. */
  readonly known: () => Folded | null;
  /** How far its pages are turned, as far as is known once the bytes are there. */
  readonly turns: () => Turns;
  /**
   * Opens the chart, its file kept first where it is new. It begins with the first call, so that reading and writing
   * take nothing from the drawing; what is not yet kept is lost with the page, and nothing but it.
   */
  readonly chart: () => Promise<OpenChart>;
}

/** One and the same work, however often it is asked for. */
function once<T>(work: () => Promise<T>): () => Promise<T> {
  let begun: Promise<T> | null = null;
  return () => (begun ??= work());
}

/** The password of the chart's file, beside the file. Waits for the chart: only locked files ask for it. */
export function memoryOf(store: Promise<Store>, { chart }: Coming): Memory {
  const hash = async () => (await chart()).state.peek().document ?? '';
  return {
    recall: async () => (await store).password(await hash()),
    keep: async (password) => (await store).keepPassword(await hash(), password),
  };
}

/** A chart that is kept, by the key in the address. */
export function kept(store: Promise<Store>, key: ChartKey | null, left: AbortSignal): Coming {
  let read: Folded | null = null;
  const known = (async () => {
    if (!key) throw new CannotOpen(t('stand_no_chart'));
    return (read = await knownChart(await store, key));
  })();
  return {
    name: () => read?.name ?? '',
    turns: () => turnsOf(read?.marks?.marks),
    bytes: known.then(async (state) => bytesOf(await store, state)),
    known: () => read,
    chart: once(async () => openChart(await store, await known, left)),
  };
}

/** A file just chosen: it is drawn, then kept. */
export function chosen(store: Promise<Store>, file: File, left: AbortSignal): Coming {
  const known = () => null;
  const turns = () => NOT_TURNED;
  if (file.size > LARGEST_FILE) {
    const size = t('stand_megabytes', Math.round(file.size / 2 ** 20));
    const refused = Promise.reject(new CannotOpen(t('stand_too_large', file.name, size)));
    return { name: () => file.name, bytes: refused, known, turns, chart: () => refused };
  }
  const keep = async () => {
    try {
      return await takeIn(await store, file, { name: file.name });
    } catch (error) {
      // Nothing can be practised that is not kept: the tunes page says what to do.
      location.replace(pageUrl('tunes', problemParams(asProblem(error, file.name))));
      return new Promise<never>(() => undefined);
    }
  };
  const chart = once(async () => {
    const key = await keep();
    history.replaceState(null, '', pageUrl('stand', { chart: key }));
    return openChart(await store, await knownChart(await store, key), left);
  });
  return { name: () => chartName(file.name), bytes: Promise.resolve(file), known, turns, chart };
}
