/** A real drill on the stand: how long a verdict takes to be kept and shown, how near the light is to the click. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Page } from 'puppeteer-core';
import { closeCaution, putOnStand, readStand, sleep, until, type Driver } from './drive.ts';
import { measured, quantile, spreadOf, type Row } from './table.ts';

/** Each pass is said to be clean, then to be a slip after all: two verdicts in one gap. */
const PASSES = 32;
const FRAME = 1000 / 60;

interface Probed {
  readonly clicks: readonly number[];
  readonly lit: readonly number[];
  readonly verdicts: readonly number[];
  readonly bare: readonly number[];
  readonly frames: readonly number[];
  readonly source: string | null;
  readonly latency: number;
}

async function drill(page: Page, chart: string) {
  const prepare = () =>
    page.evaluate(`probe.prepare(${JSON.stringify(chart)})`) as Promise<{ vouched: number; bytes: number }>;
  let kept = await prepare();
  await page.keyboard.press('KeyB');
  for (let pass = 0; pass < PASSES; pass++) {
    const now = await until(
      () => readStand(page),
      ({ loose, phase }) => loose === 1 || phase === 'wall',
      'a pass is over',
      20,
    );
    if (now.phase === 'wall') {
      await page.keyboard.press('KeyB');
      pass--;
      await sleep(100);
      continue;
    }
    // The waits are uneven, so that keys fall anywhere in a frame.
    for (const key of ['KeyC', 'F9', 'KeyS', 'F9'] as const) {
      await sleep(230 + ((pass * 7) % 17));
      await page.keyboard.press(key);
    }
    await until(
      () => readStand(page),
      ({ tight, loose }) => tight === 0 && loose === 0,
      'the rope has run out',
      5,
    );
    if (pass === 0) kept = await prepare();
  }
  // The last ones are timed with the frame after their commit, which may be still to come.
  await until(
    () => page.evaluate('[probe.verdicts.length, probe.bare.length]') as Promise<[number, number]>,
    (counts) => counts.every((count) => count >= 2 * PASSES),
    'every verdict and put is timed',
    5,
  );
  const end = await prepare();
  await page.keyboard.press('KeyP');
  const { clicks, lit, verdicts, bare, frames, source, latency } = (await page.evaluate(
    '({ ...probe, prepare: undefined })',
  )) as Probed;
  if (verdicts.length !== 2 * PASSES || bare.length !== 2 * PASSES || end.vouched !== 2 * PASSES)
    throw new Error(
      `${2 * PASSES} verdicts were given: ${verdicts.length} shown, ${end.vouched} kept, ${bare.length} bare puts`,
    );
  return { clicks, lit, verdicts, bare, frames, source, latency, bytes: kept.bytes };
}

/** For each click the way to the nearest change of the light, ms; the light's lateness is positive. */
const offBeat = (clicks: readonly number[], lit: readonly number[]) =>
  clicks.map((click) =>
    lit.reduce((best, at) => (Math.abs(at - click) < Math.abs(best) ? at - click : best), Infinity),
  );

/** A change made in a frame is seen when that frame is over: at the start of the next, which it is told here. */
const seenOf = (lit: readonly number[], frames: readonly number[]) =>
  lit.flatMap((at) => frames.find((frame) => frame > at) ?? []);

export async function drillRows(driver: Driver): Promise<Row[]> {
  const { page, path } = await putOnStand(driver, 'aaba', {
    start: 240,
    goal: 240,
    streak: 90,
    joinStreak: 90,
  });
  await closeCaution(page);
  await page.evaluateOnNewDocument(readFileSync(resolve(import.meta.dirname, 'page/probe.js'), 'utf8'));
  await page.reload();
  await until(
    () => readStand(page),
    ({ state }) => state === 'ready',
    'the stand',
    20,
  );
  const probed = await drill(page, new URLSearchParams(path.split('#')[1]).get('chart')!);
  await page.close();
  const { verdicts, bare, frames, bytes } = probed;
  const spread = [spreadOf(verdicts), spreadOf(bare)];
  const verdictRow = (q: number) =>
    measured({
      name: `verdict key to kept and shown, p${100 * q}`,
      figure: { value: quantile(verdicts, q), unit: 'ms' },
      baseline: { name: 'a bare strict put, a text, a frame', value: quantile(bare, q), unit: 'ms' },
      bound: { of: 'ratio', most: 1.5 },
      spread,
      note: `${verdicts.length} of each in turn, ${bytes} bytes of JSON`,
    });

  const off = offBeat(probed.clicks, probed.lit);
  if (off.length < 100) throw new Error(`only ${off.length} clicks were heard`);
  const seen = offBeat(probed.clicks, seenOf(probed.lit, frames));
  const apart = frames.slice(1).map((at, i) => at - frames[i]!);
  const between = { name: 'between two frames (p95)', value: quantile(apart, 0.95) / FRAME, unit: 'frames' };
  const ms = (values: readonly number[], q: number) => quantile(values, q).toFixed(1);
  const by = `by ${probed.source ?? 'nothing'}, output latency ${(1000 * probed.latency).toFixed(1)} ms`;
  const lightRow = (name: string, ways: readonly number[]) => {
    const away = ways.map(Math.abs);
    return measured({
      name,
      figure: { value: quantile(away, 0.95) / FRAME, unit: 'frames' },
      baseline: between,
      bound: { of: 'figure', most: 1 },
      spread: [spreadOf(ways.map((each) => each / FRAME)), spreadOf(apart.map((each) => each / FRAME))],
      note: `frames of 1/60 s; ${ways.length} clicks; p50 ${ms(away, 0.5)} ms, p95 ${ms(away, 0.95)} ms, from ${ms(ways, 0)} to ${ms(ways, 1)} ms, median ${ms(ways, 0.5)} ms; ${by}`,
    });
  };
  return [
    verdictRow(0.5),
    verdictRow(0.99),
    lightRow('light set, to its click, p95', off),
    lightRow('light seen, to its click, p95', seen),
  ];
}
