import type { Meter } from '../../chart/types.ts';
import { answersIn } from './answers.ts';
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

/** A meter as it is said of a system. */
export interface SaidMeter {
  /** Null: none is printed. */
  readonly meter: Meter | null;
  /** The chance, 0–1, that it is this one. */
  readonly sure: number;
  /** About its middle, a column of the straightened picture. */
  readonly x: number;
}

/** The meter printed behind clef and key of a system. */
export function meterAt(straight: Straight): SaidMeter {
  net ??= unpacked(weights, METER.shapes);
  const { chances, at } = answersIn(zoneOf(straight), METER, net);
  const best = chances.indexOf(Math.max(...chances));
  const across = METER.shapes.reduce((all, shape) => all * shape.across, POOL);
  const x = straight.ends[0]!.x0 - BEFORE * straight.unit + across * at[best]!;
  return { meter: meterOf(METERS[best]!), sure: chances[best]!, x };
}
