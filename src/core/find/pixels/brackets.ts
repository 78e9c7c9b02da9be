import type { BarStroke, Bracket } from '../types.ts';
import type { Straight } from './straight.ts';

export function bracketsOf(_straight: Straight, _strokes: readonly BarStroke[]): Bracket[] {
  return [];
}
