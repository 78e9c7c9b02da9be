import { chancesFrom } from './answers.ts';
import { saidAlong, type Layer } from './net.ts';
import { SAID } from './shapes.ts';
import { stripOf } from './strip.ts';
import type { Straight } from './straight.ts';
import { unpacked } from './weights.ts';
import weights from './weights.json' with { type: 'json' };

let net: readonly Layer[] | null = null;

/** The chance of each answer of `SAID` at each place along a system: [answer][place], 0–1. */
export type Chances = readonly Float32Array[];

/** What the net says, the staves of the system taken together: a bar line stands in all of them. */
export function chancesOf(straight: Straight): Chances {
  net ??= unpacked(weights);
  const layers = net;
  const said = straight.tops.map((_, k) => saidAlong(stripOf(straight, k), layers));
  const { columns } = said[0]!;
  const chances = SAID.map(() => new Float32Array(columns));
  for (let x = 0; x < columns; x++) {
    const odds = SAID.map(
      (_, c) => said.reduce((sum, { data }) => sum + data[c * columns + x]!, 0) / said.length,
    );
    chancesFrom(odds).forEach((chance, c) => (chances[c]![x] = chance));
  }
  return chances;
}
