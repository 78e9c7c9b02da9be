/** What an engraver says it has drawn, in the form that find-bars answers in. */
import type { BarLineKind } from '../../src/core/find/types.ts';
import type { Tune } from './tunes/types.ts';

export type Box = [x0: number, y0: number, x1: number, y1: number];

export interface TrueBar {
  box: Box;
  left: BarLineKind;
  right: BarLineKind;
  ending?: number[];
  continues?: true;
}

export interface TrueSystem {
  box: Box;
  staves: number;
  bars: TrueBar[];
}

export interface Truth {
  tune: string;
  engraver: string;
  pages: { width: number; height: number; systems: TrueSystem[] }[];
  route: number[];
  /** Class of every written bar: the same number for bars that were made alike. */
  classes: number[];
}

/** A bar line as the engraver drew it: its strokes' extent, and the kind that it was asked for. */
export interface TrueLine {
  x0: number;
  x1: number;
  kind: BarLineKind;
}

/** A system as the engraver drew it, in page points. */
export interface DrawnSystem {
  top: number;
  bottom: number;
  x0: number;
  x1: number;
  staves: number;
  lines: TrueLine[];
}

export interface DrawnPage {
  width: number;
  height: number;
  systems: DrawnSystem[];
}

/** Middle of a bar line as drawn. */
const middle = (line: TrueLine) => (line.x0 + line.x1) / 2;

/**
 * The bars between the bar lines of a system. Before a start repeat behind the clef stands no bar, except
 * a pickup in the first system.
 */
export function barsIn(system: DrawnSystem, hasPickup = false): TrueBar[] {
  const { top, bottom, x0 } = system;
  const lines = [...system.lines].sort((a, b) => middle(a) - middle(b));
  const bars: TrueBar[] = [];
  let edge: { x: number; kind: BarLineKind } = { x: x0, kind: 'none' };
  lines.forEach((line, i) => {
    const isSpace = i === 0 && line.kind === 'repeat-start' && !hasPickup;
    if (!isSpace) bars.push({ box: [edge.x, top, middle(line), bottom], left: edge.kind, right: line.kind });
    edge = { x: middle(line), kind: line.kind };
  });
  return bars;
}

/** The truth of a tune as drawn. Throws when the engraver drew another number of bars than were written. */
export function truthOf(tune: Tune, engraver: string, drawn: readonly DrawnPage[]): Truth {
  let isFirst = true;
  let count = 0;
  const pages = drawn.map(({ width, height, systems }) => ({
    width,
    height,
    systems: systems.map((system) => {
      const bars = barsIn(system, isFirst && tune.bars[0]!.pickup === true);
      isFirst = false;
      for (const bar of bars) {
        const ending = tune.bars[count++]?.ending;
        if (ending !== undefined) bar.ending = [ending];
      }
      const box: Box = [system.x0, system.top, system.x1, system.bottom];
      return { box, staves: system.staves, bars };
    }),
  }));
  if (count !== tune.bars.length)
    throw new Error(`${engraver} drew ${count} bars of ${tune.name}, ${tune.bars.length} were written`);
  return { tune: tune.name, engraver, pages, route: [...tune.route], classes: [...tune.classes] };
}
