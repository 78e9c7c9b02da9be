import type { Meter } from '../../chart/types.ts';
import { answersAbout } from './answers.ts';
import { METER, meterOf, METERS } from './meter-shapes.ts';
import weights from './meter-weights.json' with { type: 'json' };
import type { Layer } from './net.ts';
import { POOL, stripOf, type Strip } from './strip.ts';
import type { Straight } from './straight.ts';
import { unpacked } from './weights.ts';

/** A clef, seven accidentals and a meter take at most so many spaces; looked at from a little before the staff. */
const ZONE = 18;
const BEFORE = 1;

/** The beginning of a system's top staff. */
export function zoneOf(straight: Straight): Strip {
  const columns = (ZONE * straight.unit) / POOL;
  const from = Math.round((straight.ends[0]!.x0 - BEFORE * straight.unit) / POOL);
  return stripOf(straight, 0, from, columns);
}

let net: readonly Layer[] | null = null;

/** The meter printed behind clef and key of a system, and the chance, 0–1, that it is this one. */
export function meterAt(straight: Straight): { readonly meter: Meter | null; readonly sure: number } {
  net ??= unpacked(weights, METER.shapes);
  const chances = answersAbout(zoneOf(straight), METER, net);
  const best = chances.indexOf(Math.max(...chances));
  return { meter: meterOf(METERS[best]!), sure: chances[best]! };
}
