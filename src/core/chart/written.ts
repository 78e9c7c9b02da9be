import { beatsOf, unitOf } from './meter.ts';
import { placed } from './reach.ts';
import type { Bar, BarId, BeatUnit, Jump, Marks, Meter, PlacedBox, SectionWhen, System } from './types.ts';

/** A bar as it is written, whole, with everything that it inherits from the bars before it. */
export interface WrittenBar {
  readonly id: BarId;
  /** Its own id and those of the boxes that continue it on the next line. */
  readonly ids: readonly BarId[];
  readonly boxes: readonly PlacedBox[];
  /** From 1 at the first full bar; 0 for a pickup. A multi-bar rest has the number of its first bar. */
  readonly number: number;
  readonly meter: Meter;
  readonly unit: BeatUnit;
  readonly beats: number;
  /** Beats that it holds when it is a pickup; 0 for a full bar. */
  readonly pickup: number;
  readonly leadIn: number;
  readonly silent: boolean;
  readonly tied: boolean;
  readonly section: string | null;
  readonly repeatStart: boolean;
  /** How many times the passage that ends here sounds; 0 when none ends here. */
  readonly repeatEnd: number;
  /** Empty when it is under no bracket. */
  readonly ending: readonly number[];
  readonly segno: boolean;
  readonly coda: boolean;
  readonly toCoda: boolean;
  readonly fine: boolean;
  readonly jump: Jump | null;
  /** How many bars it counts: more than 1 for a multi-bar rest. */
  readonly bars: number;
  readonly when: SectionWhen | null;
  readonly as: BarId | null;
}

interface Part {
  readonly system: System;
  readonly bar: Bar;
}

/** The boxes of each written bar, in reading order: one, or several where it is broken over lines. */
function groups(marks: Marks): Part[][] {
  const found: Part[][] = [];
  for (const system of marks.systems)
    for (const bar of system.bars) {
      const last = found.at(-1);
      if (bar.continues === true && last !== undefined) last.push({ system, bar });
      else found.push([{ system, bar }]);
    }
  return found;
}

/**
 * All written bars in reading order, pickups included. Meter and unit carry on until the next change;
 * a new meter brings its own unit. A pickup further on, whose beats sound nowhere else, becomes the
 * lead-in of the bar after it; the one at the start is the plan's pickup.
 */
export function writtenBars(marks: Marks): WrittenBar[] {
  let meter = marks.meter;
  let chosen = marks.unit;
  let number = 0;
  let leadIn = 0;
  return groups(marks).map((parts, index) => {
    const first = parts[0]!.bar;
    if (first.meter !== undefined) chosen = null;
    meter = first.meter ?? meter;
    chosen = first.unit ?? chosen;
    const unit = unitOf(meter, chosen);
    const beats = beatsOf(meter, unit);
    const pickup = first.pickup ?? 0;
    const ownLeadIn = Math.min(first.leadIn ?? leadIn, beats);
    leadIn = index === 0 ? 0 : pickup;
    const bars = Math.max(1, ...parts.map((part) => part.bar.restBars ?? 1));
    const own = number + 1;
    if (pickup === 0) number += bars;
    const says = (sign: 'segno' | 'coda' | 'toCoda' | 'fine') =>
      parts.some((part) => part.bar[sign] === true);
    return {
      id: first.id,
      ids: parts.map((part) => part.bar.id),
      boxes: parts.map((part) => placed(marks, part.system, part.bar)),
      number: pickup === 0 ? own : 0,
      meter,
      unit,
      beats,
      pickup,
      leadIn: ownLeadIn,
      // What is said of a bar's left edge stands on its first box, what is said of its right on its last.
      silent: bars > 1 || parts.every((part) => part.bar.silent === true),
      tied: parts.at(-1)!.bar.tied === true,
      section: first.section ?? null,
      repeatStart: first.repeatStart === true,
      repeatEnd: Math.max(0, ...parts.map((part) => part.bar.repeatEnd ?? 0)),
      ending: parts.find((part) => part.bar.ending !== undefined)?.bar.ending ?? [],
      segno: says('segno'),
      coda: says('coda'),
      toCoda: says('toCoda'),
      fine: says('fine'),
      jump: parts.findLast((part) => part.bar.jump !== undefined)?.bar.jump ?? null,
      bars,
      when: first.when ?? null,
      as: parts.find((part) => part.bar.as !== undefined)?.bar.as ?? null,
    };
  });
}
