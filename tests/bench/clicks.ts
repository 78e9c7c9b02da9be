/** Where live clicks begin in the samples that go out, the page's own thread busy meanwhile. */
import type { Driver } from './drive.ts';
import type { Bench } from './page/page.ts';
import { measured, spreadOf, type Row } from './table.ts';

/** A tempo whose beat is no whole number of samples at any usual rate. */
const BPM = 233;
const BARS = 4;
const BLOCKED_MS = 3000;

type Take = Awaited<ReturnType<Bench['clicks']>>;

/** Errors in samples of the clicks that were to sound between two moments; every one has to be there. */
function errorsOf({ heard, expected, stops }: Take, from: number, to: number): number[] {
  if (stops.length > 0) throw new Error(`the sound stopped: ${stops.join(', ')}`);
  if (heard.length !== expected.length)
    throw new Error(`${heard.length} clicks sounded, ${expected.length} were wanted`);
  return expected.flatMap((at, i) => (at >= from && at <= to ? [Math.abs(heard[i]! - at)] : []));
}

export async function clickRow(driver: Driver): Promise<Row> {
  const page = await driver.openPage('bench/index.html');
  await page.waitForSelector('html[data-state="ready"]');
  // A browser lets a page sound after a gesture.
  await page.mouse.click(5, 5);
  const play = (blockedMs: number): Promise<Take> =>
    page.evaluate(
      (bpm, bars, ms) => (globalThis as unknown as { bench: Bench }).bench.clicks(bpm, bars, ms),
      BPM,
      BARS,
      blockedMs,
    );
  const free = await play(0);
  const busy = await play(BLOCKED_MS);
  await page.close();
  const blocked = errorsOf(busy, ...busy.blocked);
  const calm = errorsOf(free, -Infinity, Infinity);
  if (blocked.length < 8) throw new Error(`only ${blocked.length} clicks sounded while the page was busy`);
  return measured({
    name: 'click error, page blocked for 3 s',
    figure: { value: Math.max(...blocked), unit: 'samples' },
    baseline: { name: 'the same pass, page free', value: Math.max(...calm), unit: 'samples' },
    bound: { of: 'figure', most: 1 },
    spread: [spreadOf(blocked), spreadOf(calm)],
    note: `worst of ${blocked.length} at ${BPM} bpm, ${busy.rate} samples a second`,
  });
}
