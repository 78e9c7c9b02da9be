import type { BarStroke, Thing } from '../types.ts';
import type { Straight } from './straight.ts';

export function thingsOf(_straight: Straight, _strokes: readonly BarStroke[]): Thing[] {
  return [];
}
