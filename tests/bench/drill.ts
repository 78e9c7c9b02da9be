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

/**
 * For each click how many frames the browser drew after it until the light had changed; 1 is the very next.
 * A busy machine skips frames, and nothing can be lit between them.
 */
const framesLate = (clicks: readonly number[], lit: readonly number[], frames: readonly number[]) =>
  clicks.map((click) => {
    const changed = lit.find((at) => at > click - FRAME) ?? Infinity;
    return frames.filter((at) => at > click && at <= changed).length;
  });

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
  const away = off.map(Math.abs);
  const late = framesLate(probed.clicks, probed.lit, frames);
  const apart = frames.slice(1).map((at, i) => at - frames[i]!);
  const between = { name: 'between two frames (p95)', value: quantile(apart, 0.95) / FRAME, unit: 'frames' };
  const ms = (values: readonly number[], q: number) => quantile(values, q).toFixed(1);
  const by = `by ${probed.source ?? 'nothing'}, output latency ${(1000 * probed.latency).toFixed(1)} ms`;
  return [
    verdictRow(0.5),
    verdictRow(0.99),
    measured({
      name: 'light to its click, p95, frames of 1/60 s',
      figure: { value: quantile(away, 0.95) / FRAME, unit: 'frames' },
      baseline: between,
      bound: { of: 'figure', most: 1 },
      spread: [spreadOf(off.map((each) => each / FRAME)), spreadOf(apart.map((each) => each / FRAME))],
      note: `${off.length} clicks; p50 ${ms(away, 0.5)} ms, p95 ${ms(away, 0.95)} ms, from ${ms(off, 0)} to ${ms(off, 1)} ms; ${by}`,
    }),
    measured({
      name: 'light to its click, p95, frames drawn',
      figure: { value: quantile(late, 0.95), unit: 'frames' },
      baseline: between,
      bound: { of: 'figure', most: 1 },
      spread: [spreadOf(late), spreadOf(apart.map((each) => each / FRAME))],
      note: `${late.filter((count) => count <= 1).length} of ${late.length} in the very next frame`,
    }),
  ];
}
