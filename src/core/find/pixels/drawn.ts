import type { BarStroke, Dot } from '../types.ts';
import type { Barline } from './barlines.ts';

/** Usual edges of the strokes of a bar line around its middle, and of its dots, in spaces. */
const THIN = 0.16;
const THICK = 0.5;
const GAP = 0.4;
const AWAY = 0.5;

/** Strokes and dots of a bar line of its kind as they are usually drawn (common practice, no source). */
export function drawnAs(
  { x, kind, chance, kindChance }: Barline,
  unit: number,
  tops: readonly number[],
): { strokes: BarStroke[]; dots: Dot[] } {
  const widths = {
    none: [],
    single: [THIN],
    double: [THIN, THIN],
    final: [THIN, THICK],
    'repeat-start': [THICK, THIN],
    'repeat-end': [THIN, THICK],
    'repeat-both': [THIN, THICK, THIN],
  }[kind];
  const whole = widths.reduce((sum, width) => sum + width + GAP, -GAP);
  let edge = x - (whole / 2) * unit;
  const strokes = widths.map((width): BarStroke => {
    const stroke = { x0: edge, x1: edge + width * unit, sure: chance * kindChance };
    edge += (width + GAP) * unit;
    return stroke;
  });
  const sides = { 'repeat-start': [1], 'repeat-end': [-1], 'repeat-both': [-1, 1] } as Record<
    string,
    number[]
  >;
  const dots = (sides[kind] ?? []).flatMap((side) =>
    tops.flatMap((top) =>
      [1.5, 2.5].map((k) => ({
        x: x + side * (whole / 2 + AWAY) * unit,
        y: top + k * unit,
        width: 0.4 * unit,
      })),
    ),
  );
  return { strokes, dots };
}
