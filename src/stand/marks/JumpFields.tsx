import { useState } from 'preact/hooks';
import type { Bar, Jump, SectionWhen } from '../../core/chart/types.ts';
import { MAX_REST } from '../../core/chart/conventions.ts';
import { t } from '../../host/i18n.ts';
import type { Actions } from './actions.ts';
import { Check, Count, Row } from './fields.tsx';
import { JUMPS, WHENS } from './words.ts';

interface JumpFieldsProps {
  readonly bar: Bar;
  readonly say: Actions['say'];
}

/** The signs that lead away from the page's order, and a rest of several bars. Open where one of them stands. */
export function JumpFields({ bar, say }: JumpFieldsProps) {
  // Only at first: what is taken back must not close on the hand that takes it back.
  const [isSaid] = useState(
    !!(bar.segno ?? bar.coda ?? bar.toCoda ?? bar.fine ?? bar.jump ?? bar.restBars ?? bar.when),
  );
  return (
    <details open={isSaid}>
      <summary>{t('marks_jumps')}</summary>
      <Check name={t('marks_cmd_segno')} on={!!bar.segno} change={(segno) => say({ segno })} />
      <Check name={t('marks_cmd_coda')} on={!!bar.coda} change={(coda) => say({ coda })} />
      <Check name={t('marks_cmd_to_coda')} on={!!bar.toCoda} change={(toCoda) => say({ toCoda })} />
      <Check name={t('marks_cmd_fine')} on={!!bar.fine} change={(fine) => say({ fine })} />
      <Row name={t('marks_cmd_jump')}>
        <select
          value={bar.jump ?? ''}
          onChange={(event) => say({ jump: (event.currentTarget.value || null) as Jump | null })}
        >
          <option value="">{t('marks_none')}</option>
          {Object.entries(JUMPS).map(([jump, key]) => (
            <option key={jump} value={jump}>
              {t(key)}
            </option>
          ))}
        </select>
      </Row>
      <Count
        name={t('marks_cmd_rest')}
        count={bar.restBars ?? null}
        most={MAX_REST}
        change={(restBars) => say({ restBars })}
      />
      {(bar.section !== undefined || bar.coda) && (
        <Row name={t('marks_when')}>
          <select
            value={bar.when ?? ''}
            onChange={(event) => say({ when: (event.currentTarget.value || null) as SectionWhen | null })}
          >
            <option value="">{t('marks_when_every')}</option>
            {Object.entries(WHENS).map(([when, key]) => (
              <option key={when} value={when}>
                {t(key)}
              </option>
            ))}
          </select>
        </Row>
      )}
    </details>
  );
}
