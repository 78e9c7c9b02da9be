/** A shelf as a player would have it after years: many charts of the same file, each with its own name and history. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defaultNumbers, planOf } from '../../src/core/chart/plan.ts';
import type { Marks } from '../../src/core/chart/types.ts';
import type { EventBody, LogEvent } from '../../src/core/log/events.ts';
import { newSave, type Save } from '../../src/core/log/save.ts';

const samples = resolve(import.meta.dirname, '../../sample-pdfs');
const FIRST = [
  'Lantern',
  'Salt Road',
  'Three',
  'Old',
  'Gannet',
  'Häfen',
  'Quiet',
  'Northern',
  'Copper',
  'Élan',
];
const THEN = [
  'Waltz',
  'Tides',
  'Wall',
  'on the Quay',
  'Reel',
  'at Noon',
  'Ferry',
  'Lights',
  'Morning',
  'Øre',
];
const START = Date.UTC(2025, 0, 5, 18, 0, 0);

/** The name of the nth chart; no two are the same. */
export const nameOf = (n: number): string =>
  `${FIRST[n % 10]!} ${THEN[Math.floor(n / 10) % 10]!} ${Math.floor(n / 100) + 1}`;

/**
 * A save of `count` charts over the sample `sample`, boxed, planned and played `n % 12` times; every seventh only
 * opened. One in ten has words of the player's own, one in a hundred is in a set. `ownFiles`: each is of a file of its
 * own, which is not there.
 */
export function shelfSave(count: number, sample = 'aaba', ownFiles = false): Save {
  const hash = createHash('sha256')
    .update(readFileSync(resolve(samples, `${sample}.pdf`)))
    .digest('hex');
  const marks = JSON.parse(readFileSync(resolve(samples, `${sample}.marks.json`), 'utf8')) as Marks;
  const plan = planOf(marks, defaultNumbers);
  const events = Array.from({ length: count }, (_, n): LogEvent[] => {
    const document = ownFiles ? createHash('sha256').update(nameOf(n)).digest('hex') : hash;
    const chart = `chart-${String(n).padStart(5, '0')}`;
    const passes = Array.from({ length: n % 12 }, (): EventBody => ({
      type: 'pass',
      plan: `${chart}-2`,
      from: 0,
      to: 0,
      bpm: defaultNumbers.start,
      unit: 'quarter',
      seconds: 4,
      kind: 'drill',
      verdict: 'clean',
      by: 'key',
      slips: [],
    }));
    const bodies: EventBody[] = [
      { type: 'opened', document, name: nameOf(n) },
      ...(n % 7 === 6
        ? []
        : ([
            { type: 'marks', parent: null, marks },
            { type: 'plan', marks: `${chart}-1`, plan },
            ...passes,
          ] satisfies EventBody[])),
      ...(n % 10 === 3
        ? ([{ type: 'noted', words: `wedding band, book ${n % 17}` }] satisfies EventBody[])
        : []),
      ...(n % 100 === 5 ? ([{ type: 'listed', set: 'Harbour feast', rank: n }] satisfies EventBody[]) : []),
    ];
    return bodies.map((body, i) => ({
      v: 1,
      id: `${chart}-${i}`,
      chart,
      sitting: `${chart}-s`,
      place: i,
      seq: i,
      after: i === 0 ? null : `${chart}-${i - 1}`,
      at: new Date(START + n * 3_600_000 + i * 5000).toISOString(),
      zone: 'UTC',
      ...body,
    }));
  });
  return newSave(events.flat(), [], {});
}
