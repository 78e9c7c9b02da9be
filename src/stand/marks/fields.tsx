import type { ComponentChildren } from 'preact';
import type { BeatUnit, Meter } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';

/** A row of the rail: what it is, and its control. */
export function Row({ name, children }: { readonly name: string; readonly children: ComponentChildren }) {
  return (
    <label class="marks-row">
      <span>{name}</span>
      {children}
    </label>
  );
}

interface CheckProps {
  readonly name: string;
  readonly on: boolean;
  readonly change: (on: boolean) => void;
}

export function Check({ name, on, change }: CheckProps) {
  return (
    <Row name={name}>
      <input type="checkbox" checked={on} onChange={(event) => change(event.currentTarget.checked)} />
    </Row>
  );
}

interface BeatsProps {
  readonly name: string;
  /** Null and 0 are none. */
  readonly beats: number | null;
  /** Fewer than so many. */
  readonly below: number;
  readonly change: (beats: number | null) => void;
}

/** A number of beats, by halves; none when empty or 0. What is no such number is put back. */
export function Beats({ name, beats, below, change }: BeatsProps) {
  return (
    <Row name={name}>
      <input
        type="number"
        min="0"
        max={below - 0.5}
        step="0.5"
        value={beats ?? ''}
        placeholder={t('marks_none')}
        onChange={(event) => {
          const field = event.currentTarget;
          const value = Number(field.value);
          if (!field.value || value === 0) change(null);
          else if (value > 0 && value < below) change(value);
          else field.value = beats === null ? '' : String(beats);
        }}
      />
    </Row>
  );
}

interface CountProps {
  readonly name: string;
  /** Null is none, and so is 1. */
  readonly count: number | null;
  readonly most: number;
  readonly change: (count: number | null) => void;
}

/** A whole number from 2 on; none when empty, 0 or 1. What is no such number is put back. */
export function Count({ name, count, most, change }: CountProps) {
  return (
    <Row name={name}>
      <input
        type="number"
        min="1"
        max={most}
        value={count ?? ''}
        placeholder={t('marks_none')}
        onChange={(event) => {
          const field = event.currentTarget;
          const value = Number(field.value);
          if (value === 0 || value === 1) change(null);
          else if (Number.isInteger(value) && value >= 2 && value <= most) change(value);
          else field.value = count === null ? '' : String(count);
        }}
      />
    </Row>
  );
}

const METERS: readonly Meter[] = [
  [4, 4],
  [3, 4],
  [2, 4],
  [5, 4],
  [6, 4],
  [2, 2],
  [3, 2],
  [3, 8],
  [5, 8],
  [6, 8],
  [7, 8],
  [9, 8],
  [12, 8],
].map(([beats, value]) => ({ beats: beats!, value: value! }));
const key = (meter: Meter) => `${meter.beats}/${meter.value}`;

interface MeterProps {
  readonly name: string;
  readonly meter: Meter | null;
  /** What null is called; without it there is no such choice. */
  readonly none?: string;
  readonly change: (meter: Meter | null) => void;
}

/** The usual time signatures, and the one that the chart has if it is another. */
export function MeterField({ name, meter, none, change }: MeterProps) {
  const all = meter && METERS.every((each) => key(each) !== key(meter)) ? [...METERS, meter] : METERS;
  return (
    <Row name={name}>
      <select
        value={meter ? key(meter) : ''}
        onChange={(event) => change(all.find((each) => key(each) === event.currentTarget.value) ?? null)}
      >
        {none !== undefined && <option value="">{none}</option>}
        {all.map((each) => (
          <option key={key(each)} value={key(each)}>
            {t('marks_meter', each.beats, each.value)}
          </option>
        ))}
      </select>
    </Row>
  );
}

const UNITS = {
  sixteenth: 'marks_unit_sixteenth',
  eighth: 'marks_unit_eighth',
  'dotted-eighth': 'marks_unit_dotted_eighth',
  quarter: 'marks_unit_quarter',
  'dotted-quarter': 'marks_unit_dotted_quarter',
  half: 'marks_unit_half',
  'dotted-half': 'marks_unit_dotted_half',
} as const satisfies Record<BeatUnit, string>;

interface UnitProps {
  readonly name: string;
  readonly unit: BeatUnit | null;
  /** What null is called. */
  readonly none: string;
  readonly change: (unit: BeatUnit | null) => void;
}

/** The note that the tempo counts. */
export function UnitField({ name, unit, none, change }: UnitProps) {
  return (
    <Row name={name}>
      <select
        value={unit ?? ''}
        onChange={(event) => change((event.currentTarget.value || null) as BeatUnit | null)}
      >
        <option value="">{none}</option>
        {(Object.keys(UNITS) as BeatUnit[]).map((each) => (
          <option key={each} value={each}>
            {t(UNITS[each])}
          </option>
        ))}
      </select>
    </Row>
  );
}

/** A beat unit's name. */
export const unitName = (unit: BeatUnit): string => t(UNITS[unit]);
