import type { BeatUnit } from '../core/chart/types.ts';
import { t, type MessageKey } from '../host/i18n.ts';

const unitKeys: Record<BeatUnit, MessageKey> = {
  sixteenth: 'drill_unit_sixteenth',
  eighth: 'drill_unit_eighth',
  'dotted-eighth': 'drill_unit_dotted_eighth',
  quarter: 'drill_unit_quarter',
  'dotted-quarter': 'drill_unit_dotted_quarter',
  half: 'drill_unit_half',
  'dotted-half': 'drill_unit_dotted_half',
};

/** The beat's unit in words. */
export function unitName(unit: BeatUnit): string {
  return t(unitKeys[unit]);
}
