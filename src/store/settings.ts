import * as v from 'valibot';
import type { Settings } from './types.ts';

/** What a new player starts with. */
export const DEFAULTS: Settings = {
  theme: 'auto',
  volume: 0.8,
  lightOffset: 0,
  singleLetters: true,
  keys: {},
  cautionShown: false,
  findBars: true,
  tuneSort: 'played',
  distance: 2,
  ink: 'printed',
  swapScans: true,
  keepCopies: true,
  takenBack: [],
  drill: { mode: 'rolling', countIn: { bars: 1 }, gap: 1, halvesFrom: 140 },
};

const drill = v.strictObject({
  mode: v.picklist(['rolling', 'one-at-a-time']),
  countIn: v.union([
    v.strictObject({ bars: v.picklist([1, 2]) }),
    v.strictObject({ beats: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(64)) }),
  ]),
  gap: v.union([v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(8)), v.literal('as-long')]),
  halvesFrom: v.nullable(v.pipe(v.number(), v.minValue(1), v.maxValue(1000))),
});

// Every value falls back by itself: one that is damaged costs no other.
const settingsSchema = v.object({
  theme: v.fallback(v.picklist(['auto', 'day', 'stage']), DEFAULTS.theme),
  volume: v.fallback(v.pipe(v.number(), v.minValue(0), v.maxValue(1)), DEFAULTS.volume),
  lightOffset: v.fallback(v.pipe(v.number(), v.minValue(-1), v.maxValue(1)), DEFAULTS.lightOffset),
  singleLetters: v.fallback(v.boolean(), DEFAULTS.singleLetters),
  keys: v.fallback(v.record(v.string(), v.array(v.string())), DEFAULTS.keys),
  cautionShown: v.fallback(v.boolean(), DEFAULTS.cautionShown),
  findBars: v.fallback(v.boolean(), DEFAULTS.findBars),
  tuneSort: v.fallback(v.picklist(['played', 'name', 'standing', 'added']), DEFAULTS.tuneSort),
  distance: v.fallback(v.pipe(v.number(), v.minValue(0.3), v.maxValue(6)), DEFAULTS.distance),
  ink: v.fallback(v.picklist(['printed', 'darker', 'darkest']), DEFAULTS.ink),
  swapScans: v.fallback(v.boolean(), DEFAULTS.swapScans),
  keepCopies: v.fallback(v.boolean(), DEFAULTS.keepCopies),
  takenBack: v.fallback(v.array(v.string()), DEFAULTS.takenBack as string[]),
  drill: v.fallback(drill, DEFAULTS.drill),
});

/** Settings from what was kept or saved; what is missing or damaged is as for a new player. */
export function parseSettings(kept: unknown): Settings {
  const given = typeof kept === 'object' && kept !== null ? kept : {};
  return v.parse(settingsSchema, { ...DEFAULTS, ...given });
}
