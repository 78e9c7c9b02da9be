import type { Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { DrillSettings } from '../core/drill/types.ts';
import { plural, t } from '../host/i18n.ts';
import type { Settings } from '../store/types.ts';

export interface SettingsSheetProps {
  readonly settings: Signal<Settings>;
  readonly change: (change: Partial<Settings>) => void;
  readonly close: () => void;
}

function Row({ name, children }: { name: string; children: ComponentChildren }) {
  return (
    <label class="sheet-row">
      <span>{name}</span>
      {children}
    </label>
  );
}

interface ChoiceProps {
  readonly value: string;
  readonly options: readonly (readonly [string, string])[];
  readonly pick: (value: string) => void;
}

function Choice({ value, options, pick }: ChoiceProps) {
  return (
    <select value={value} onChange={(event) => pick(event.currentTarget.value)}>
      {options.map(([key, text]) => (
        <option key={key} value={key}>
          {text}
        </option>
      ))}
    </select>
  );
}

/** Sound, light and how passes follow each other. */
export function SettingsSheet({ settings, change, close }: SettingsSheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const { drill, theme, volume, lightOffset, findBars, distance, ink, swapScans } = settings.value;
  const drilling = (part: Partial<DrillSettings>) => change({ drill: { ...drill, ...part } });
  const countIn = 'bars' in drill.countIn ? `bars ${drill.countIn.bars}` : `beats ${drill.countIn.beats}`;
  const pickCountIn = (value: string) => {
    const count = Number(value.split(' ')[1]);
    drilling({ countIn: value.startsWith('bars') ? { bars: count === 2 ? 2 : 1 } : { beats: count } });
  };
  const bars = (n: number) => [String(n), plural('stand_setting_bars', n)] as const;
  return (
    <dialog class="sheet" ref={dialog} onClose={close} aria-label={t('stand_settings')}>
      <form method="dialog">
        <Row name={t('stand_setting_mode')}>
          <Choice
            value={drill.mode}
            options={[
              ['rolling', t('stand_setting_rolling')],
              ['one-at-a-time', t('stand_setting_single')],
            ]}
            pick={(mode) => drilling({ mode: mode === 'rolling' ? 'rolling' : 'one-at-a-time' })}
          />
        </Row>
        <Row name={t('stand_setting_count_in')}>
          <Choice
            value={countIn}
            options={[
              ['bars 1', plural('stand_setting_bars', 1)],
              ['bars 2', plural('stand_setting_bars', 2)],
              ['beats 2', t('stand_setting_last_beats', 2)],
              ['beats 1', t('stand_setting_last_beats', 1)],
            ]}
            pick={pickCountIn}
          />
        </Row>
        <Row name={t('stand_setting_gap')}>
          <Choice
            value={String(drill.gap)}
            options={[...[1, 2, 3, 4, 5, 6, 7, 8].map(bars), ['as-long', t('stand_setting_as_long')]]}
            pick={(gap) => drilling({ gap: gap === 'as-long' ? 'as-long' : Number(gap) })}
          />
        </Row>
        <p class="sheet-note">{t('stand_setting_gap_note')}</p>
        <Row name={t('stand_setting_halves')}>
          <Choice
            value={String(drill.halvesFrom)}
            options={[
              ...[120, 140, 160, 200].map((n) => [String(n), String(n)] as const),
              ['null', t('stand_setting_never')],
            ]}
            pick={(from) => drilling({ halvesFrom: from === 'null' ? null : Number(from) })}
          />
        </Row>
        <Row name={t('stand_setting_volume')}>
          <input
            type="range"
            min="0"
            max="1"
            step="0.05"
            value={volume}
            onInput={(event) => change({ volume: Number(event.currentTarget.value) })}
          />
        </Row>
        <Row name={t('stand_setting_distance')}>
          <input
            type="number"
            name="distance"
            min="0.3"
            max="6"
            step="0.1"
            value={distance}
            onChange={(event) => {
              const metres = event.currentTarget.valueAsNumber;
              if (metres >= 0.3 && metres <= 6) change({ distance: metres });
            }}
          />
        </Row>
        <p class="sheet-note">{t('stand_setting_distance_note')}</p>
        <Row name={t('stand_setting_offset')}>
          <input
            type="number"
            min="-300"
            max="500"
            step="5"
            value={Math.round(lightOffset * 1000)}
            onChange={(event) => change({ lightOffset: Number(event.currentTarget.value) / 1000 })}
          />
        </Row>
        <Row name={t('stand_find_bars')}>
          <input
            type="checkbox"
            name="find-bars"
            checked={findBars}
            onChange={(event) => change({ findBars: event.currentTarget.checked })}
          />
        </Row>
        <Row name={t('stand_setting_theme')}>
          <Choice
            value={theme}
            options={[
              ['auto', t('stand_setting_auto')],
              ['day', t('stand_setting_day')],
              ['stage', t('stand_setting_stage')],
            ]}
            pick={(value) => change({ theme: value === 'day' || value === 'stage' ? value : 'auto' })}
          />
        </Row>
        <Row name={t('stand_setting_swap_scans')}>
          <input
            type="checkbox"
            name="swap-scans"
            checked={swapScans}
            onChange={(event) => change({ swapScans: event.currentTarget.checked })}
          />
        </Row>
        <Row name={t('stand_setting_ink')}>
          <Choice
            value={ink}
            options={[
              ['printed', t('stand_setting_ink_printed')],
              ['darker', t('stand_setting_ink_darker')],
              ['darkest', t('stand_setting_ink_darkest')],
            ]}
            pick={(value) => change({ ink: value === 'darker' || value === 'darkest' ? value : 'printed' })}
          />
        </Row>
        <button class="first">{t('stand_close')}</button>
      </form>
    </dialog>
  );
}
