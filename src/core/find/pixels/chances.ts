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
  const odds = SAID.map(() => 0);
  for (let x = 0; x < columns; x++) {
    for (let c = 0; c < odds.length; c++) {
      odds[c] = 0;
      for (const { data } of said) odds[c]! += data[c * columns + x]! / said.length;
    }
    const of = chancesFrom(odds);
    for (let c = 0; c < odds.length; c++) chances[c]![x] = of[c]!;
  }
  return chances;
}
