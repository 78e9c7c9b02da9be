/** Charts that are ready to be drilled, put on the shelf as a player would: a file opened, a save merged. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { defaultNumbers, planOf } from '../../../src/core/chart/plan.ts';
import { choose, closeCaution, sample, until } from './index.mjs';

/** The key of a sample's chart. */
export const hashOf = (name) =>
  createHash('sha256')
    .update(readFileSync(sample(`${name}.pdf`)))
    .digest('hex');

/** A pass of bar 1 as it was played at another time, for the log of `saveFor`. */
export const played = (name, numbers, verdict) => ({
  type: 'pass',
  plan: `${name}-2`,
  from: 0,
  to: 0,
  bpm: numbers.start,
  unit: 'quarter',
  seconds: 1,
  kind: 'drill',
  verdict,
  by: 'key',
  slips: [],
});

/** A save with the sample's own marks, a plan of these numbers, and what had been played before. */
export function saveFor(name, numbers, before = []) {
  const hash = hashOf(name);
  const marks = JSON.parse(readFileSync(sample(`${name}.marks.json`), 'utf8'));
  const plan = planOf(marks, { ...defaultNumbers, ...numbers });
  const bodies = [
    { type: 'opened', document: hash, name },
    { type: 'marks', parent: null, marks },
    { type: 'plan', marks: `${name}-1`, plan },
    ...before,
  ];
  const events = bodies.map((body, i) => ({
    v: 1,
    id: `${name}-${i}`,
    chart: hash,
    sitting: `${name}-marked`,
    place: i,
    seq: i,
    after: i === 0 ? null : `${name}-${i - 1}`,
    at: '2026-01-02T18:00:00.000Z',
    zone: 'UTC',
    ...body,
  }));
  const save = { format: 'holdfast-save', version: 1, events, documents: [], settings: {} };
  return { hash, file: { name: `${name}.json`, type: 'application/json', bytes: JSON.stringify(save) } };
}

/**
 * Merges a plan for the sample and what had been played before, opens its file, and leaves it on the stand.
 * @returns the page and the address of the stand
 */
export async function putOnStand(driver, name, numbers, before) {
  const { hash, file } = saveFor(name, numbers, before);
  const page = await driver.openPage('tunes/index.html');
  await page.waitForSelector('html[data-state="ready"]');
  await choose(page, 'input.open-file', file);
  await page.waitForSelector('li.tune');
  await choose(page, 'input.open-file', sample(`${name}.pdf`));
  const path = `stand/index.html#chart=${hash}`;
  await until(
    () => page.evaluate(() => location.pathname + location.hash + document.documentElement.dataset.state),
    (now) => now.endsWith(`/${path}ready`),
    `${name} on the stand`,
  );
  await closeCaution(page);
  return { page, path };
}
