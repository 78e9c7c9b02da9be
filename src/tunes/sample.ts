import { defaultNumbers, planOf } from '../core/chart/plan.ts';
import { parseMarks } from '../core/chart/schema.ts';
import { t } from '../host/i18n.ts';
import { packedUrl } from '../host/pages.ts';
import { ChartProblem } from '../host/problem.ts';
import { sha256 } from '../store/index.ts';
import { takeIn } from '../store/intake.ts';
import type { Store } from '../store/types.ts';

async function packed(file: string): Promise<Response> {
  const response = await fetch(packedUrl(`sample/${file}`)).catch(() => null);
  if (!response?.ok) throw new ChartProblem('no-sample', t('tunes_sample_name'));
  return response;
}

let hash: Promise<string | null> | null = null;
/** What the sample's file is known by; null where it cannot be read. */
export const sampleHash = (): Promise<string | null> =>
  (hash ??= packed('first.pdf')
    .then(async (pdf) => sha256(await pdf.blob()))
    .catch(() => null));

/** The sample's own file is at hand as long as its chart is: no player can be asked for it. Throws NotKept. */
export async function bringSampleFile(store: Store): Promise<void> {
  const pdf = await packed('first.pdf');
  await store.keepDocument(await pdf.blob(), { name: t('tunes_sample_name'), always: true });
}

/**
 * Puts the sample tune on the shelf, boxed and planned, so that it can be drilled at once. One that is
 * there already keeps its marks and its history. Resolves to its key.
 */
export async function putSampleIn(store: Store): Promise<string> {
  const [pdf, json] = await Promise.all([packed('first.pdf'), packed('first.marks.json')]);
  const marks = parseMarks(await json.json());
  const chart = await takeIn(store, await pdf.blob(), { name: t('tunes_sample_name'), always: true });
  const sitting = crypto.randomUUID();
  let state = await store.state(chart, new Date().toISOString());
  if (!state?.marks) state = await store.append(chart, sitting, [{ type: 'marks', parent: null, marks }]);
  if (state.marks && !state.plan)
    await store.append(chart, sitting, [
      { type: 'plan', marks: state.marks.event, plan: planOf(state.marks.marks, defaultNumbers) },
    ]);
  return chart;
}
