import type { Meter } from '../../chart/types.ts';
import { meterOf, METERS, METER_SHAPES } from './meter-shapes.ts';
import weights from './meter-weights.json' with { type: 'json' };
import { outputsOf, padOf, type Layer, type Tensor } from './net.ts';
import { inputOf, POOL, stripOf, type Strip } from './strip.ts';
import type { Straight } from './straight.ts';
import { unpacked } from './weights.ts';

/** A clef, seven accidentals and a meter take at most so many spaces; looked at from a little before the staff. */
const ZONE = 18;
const BEFORE = 1;

/** The beginning of a system's top staff. */
export function zoneOf(straight: Straight): Strip {
  const strip = stripOf(straight, 0);
  const columns = (ZONE * straight.unit) / POOL;
  const from = Math.round((straight.ends[0]!.x0 - BEFORE * straight.unit) / POOL);
  const data = new Uint8Array(strip.rows * columns);
  for (let y = 0; y < strip.rows; y++)
    for (let x = 0; x < columns; x++)
      if (from + x >= 0 && from + x < strip.columns)
        data[y * columns + x] = strip.data[y * strip.columns + from + x]!;
  return { rows: strip.rows, columns, data };
}

/** The strongest place of each answer, and for "none" the mean of all places: one score an answer. */
export function scoresOf({ data, columns }: Tensor): { readonly scores: number[]; readonly at: number[] } {
  const at = METERS.map((_, c) => {
    let best = 0;
    for (let x = 1; x < columns; x++) if (data[c * columns + x]! > data[c * columns + best]!) best = x;
    return best;
  });
  const scores = METERS.map((_, c) => {
    if (c > 0) return data[c * columns + at[c]!]!;
    let sum = 0;
    for (let x = 0; x < columns; x++) sum += data[x]!;
    return sum / columns;
  });
  return { scores, at };
}

/** Chances that sum to 1, from scores. */
export function chancesFrom(scores: readonly number[]): number[] {
  const most = Math.max(...scores);
  const odds = scores.map((score) => Math.exp(score - most));
  const all = odds.reduce((sum, value) => sum + value, 0);
  return odds.map((value) => value / all);
}

let net: readonly Layer[] | null = null;

/** The meter printed behind clef and key of a system, and the chance, 0–1, that it is this one. */
export function meterAt(straight: Straight): { readonly meter: Meter | null; readonly sure: number } {
  net ??= unpacked(weights, METER_SHAPES);
  const last = outputsOf(inputOf(zoneOf(straight), padOf(METER_SHAPES[0]!)), net).at(-1)!;
  const chances = chancesFrom(scoresOf(last).scores);
  const best = chances.indexOf(Math.max(...chances));
  return { meter: meterOf(METERS[best]!), sure: chances[best]! };
}
