/** A chart played for years against one begun today, opened from their snapshots in IndexedDB. */
import { newSave, saveBytes } from '../../src/core/log/save.ts';
import { type Driver } from './drive.ts';
import { longLog } from './log.ts';
import type { Bench } from './page/page.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

const LONG = 20_000;
const SHORT = 20;
const TIMES = 300;
/** Openings before the browser's own caches are warm. */
const WARM = 20;
const keys = ['a'.repeat(64), 'b'.repeat(64)] as const;

export async function snapshotRow(driver: Driver): Promise<Row> {
  const long = longLog(LONG, keys[0], 'long').events;
  const short = longLog(SHORT, keys[1], 'short').events;
  const json = new TextDecoder().decode(saveBytes(newSave([...long, ...short], [], {})));
  const page = await driver.openPage('bench/index.html');
  await page.waitForSelector('html[data-state="ready"]');
  const merged = await page.evaluate(
    (save) => (globalThis as unknown as { bench: Bench }).bench.merge(save),
    json,
  );
  if (merged.added !== LONG + SHORT) throw new Error(`only ${merged.added} events were merged`);
  const { taken, counts } = await page.evaluate(
    (charts, times) => (globalThis as unknown as { bench: Bench }).bench.open(charts, times),
    keys,
    TIMES + WARM,
  );
  if (counts[0] !== LONG || counts[1] !== SHORT)
    throw new Error('the charts are not as long as they should be');
  await page.close();
  const [ofLong, ofShort] = [taken[0].slice(WARM), taken[1].slice(WARM)];
  return measured({
    name: `chart of ${LONG} events opened`,
    figure: { value: quantile(ofLong, 0.5), unit: 'ms' },
    baseline: { name: `one of ${SHORT} events`, value: quantile(ofShort, 0.5), unit: 'ms' },
    bound: { of: 'ratio', most: 1.2 },
    spread: [spreadOf(ofLong), spreadOf(ofShort)],
    note: `median of ${TIMES} in turn; merging both took ${Math.round(merged.ms)} ms`,
  });
}
