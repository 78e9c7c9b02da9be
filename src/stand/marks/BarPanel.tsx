import { sectionsOf } from '../../core/chart/edit-twins.ts';
import type { BarChange } from '../../core/chart/edit-says.ts';
import { fullBarsOf, placeOf } from '../../core/chart/edit-shape.ts';
import type { Bar } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';
import type { Actions } from './actions.ts';
import type { Editor } from './editor.ts';
import { Beats, Check, Count, MeterField, Row, UnitField } from './fields.tsx';
import { JumpFields } from './JumpFields.tsx';
import { MAX_TIMES } from '../../core/chart/conventions.ts';
import { ranges, sectionText, wordsOf, type BarWords } from './words.ts';

interface PanelProps {
  readonly editor: Editor;
  readonly actions: Actions;
}

function barsText(numbers: readonly number[]): string {
  if (numbers.length === 0) return t('marks_bar_pickup');
  return numbers.length === 1 ? t('marks_bar', numbers[0]!) : t('marks_bars', ranges(numbers));
}

/** What is said of the selected bars. */
export function BarPanel({ editor, actions }: PanelProps) {
  const bars = editor.bars();
  const first = bars[0];
  if (!first) return null;
  const marks = editor.marks.value;
  const words = wordsOf(marks);
  const numbers = bars.flatMap((bar) => words.get(bar.id)?.number || []);
  const all = (test: (bar: Bar) => unknown) => bars.every((bar) => !!test(bar));
  const beats = words.get(first.id)?.beats ?? 4;
  const single = bars.length === 1;
  const opensLine = placeOf(marks, first.id).index === 0;
  const say = (change: BarChange) => actions.say(change);
  return (
    <section class="marks-panel" aria-label={t('marks_panel_bar')}>
      <h2>{barsText(numbers)}</h2>
      {single && <SectionName bar={first} say={say} />}
      <Twins editor={editor} actions={actions} bars={bars} words={words} />
      <Check
        name={t('marks_cmd_silent')}
        on={all((bar) => bar.silent)}
        change={(silent) => say({ silent })}
      />
      <Check name={t('marks_cmd_tied')} on={all((bar) => bar.tied)} change={(tied) => say({ tied })} />
      {single && (
        <Beats
          name={t('marks_lead_in')}
          beats={first.leadIn ?? null}
          below={beats}
          change={(leadIn) => say({ leadIn })}
        />
      )}
      {single && (
        <Check
          name={t('marks_cmd_repeat_start')}
          on={!!first.repeatStart}
          change={(repeatStart) => say({ repeatStart })}
        />
      )}
      {single && (
        <Count
          name={t('marks_repeat_times')}
          count={first.repeatEnd ?? null}
          most={MAX_TIMES}
          change={(repeatEnd) => say({ repeatEnd })}
        />
      )}
      <Ending bar={first} say={say} />
      {single && <JumpFields key={first.id} bar={first} say={say} />}
      <details>
        <summary>{t('marks_more')}</summary>
        {single && (
          <Beats
            name={t('marks_pickup_beats')}
            beats={first.pickup ?? null}
            below={first.pickup === undefined ? beats : 16}
            change={(pickup) => say({ pickup })}
          />
        )}
        {single && (
          <MeterField
            name={t('marks_meter_here')}
            meter={first.meter ?? null}
            none={t('marks_unchanged')}
            change={(meter) => say({ meter })}
          />
        )}
        {single && (
          <UnitField
            name={t('marks_unit_here')}
            unit={first.unit ?? null}
            none={t('marks_unchanged')}
            change={(unit) => say({ unit })}
          />
        )}
        {single && opensLine && (
          <Check
            name={t('marks_cmd_broken')}
            on={!!first.continues}
            change={(continues) => say({ continues })}
          />
        )}
      </details>
      <div class="marks-buttons">
        <button onClick={() => actions.split(first.id, null)}>{t('marks_cmd_split')}</button>
        <button onClick={() => actions.join()}>{t('marks_cmd_join')}</button>
      </div>
    </section>
  );
}

interface SayProps {
  readonly bar: Bar;
  readonly say: Actions['say'];
}

function SectionName({ bar, say }: SayProps) {
  return (
    <Row name={t('marks_section')}>
      <input
        value={bar.section ?? ''}
        placeholder={t('marks_none')}
        maxLength={24}
        onChange={(event) => say({ section: event.currentTarget.value.trim() || null })}
      />
    </Row>
  );
}

/** Numbers of the bracket, as printed: "1", "2", "1, 2". */
function Ending({ bar, say }: SayProps) {
  return (
    <Row name={t('marks_cmd_ending')}>
      <input
        value={bar.ending?.join(', ') ?? ''}
        placeholder={t('marks_none')}
        inputMode="numeric"
        maxLength={16}
        onChange={(event) => {
          const numbers = event.currentTarget.value.match(/\d+/g)?.map(Number) ?? [];
          const ending = [...new Set(numbers)].filter((n) => n > 0 && n < 20).sort((a, b) => a - b);
          say({ ending });
          event.currentTarget.value = ending.join(', ');
        }}
      />
    </Row>
  );
}

interface TwinsProps extends PanelProps {
  readonly bars: readonly Bar[];
  readonly words: ReadonlyMap<string, BarWords>;
}

/** Which bars or which section these hold the same music as. */
function Twins({ editor, bars, words }: TwinsProps) {
  const marks = editor.marks.value;
  const sections = sectionsOf(marks);
  const first = bars[0]!;
  const own = sections.find((section) => section.bars.includes(first.id) || section.start === first.id);
  const numbersOf = (ids: readonly string[]) => ids.flatMap((id) => words.get(id)?.number || []);
  const others = sections.filter((section) => section !== own && section.bars.length > 0);
  const as = words.get(first.id)?.as ?? null;
  const ids = bars.map(({ id }) => id);
  return (
    <>
      {own && bars.length === 1 && others.length > 0 && (
        <Row name={t('marks_section_as', sectionText(own.name, numbersOf(own.bars)))}>
          <select
            value=""
            onChange={(event) => {
              const like = event.currentTarget.value;
              event.currentTarget.value = '';
              if (like === own.start) editor.make({ type: 'apart', bars: own.bars });
              else if (like) editor.make({ type: 'as-section', section: own.start, like });
            }}
          >
            <option value="">{t('marks_choose')}</option>
            {others.map((section) => (
              <option key={section.start} value={section.start}>
                {sectionText(section.name, numbersOf(section.bars))}
              </option>
            ))}
            <option value={own.start}>{t('marks_no_other')}</option>
          </select>
        </Row>
      )}
      <Row name={t(bars.length === 1 ? 'marks_bar_as' : 'marks_bars_as')}>
        <input
          type="number"
          min="1"
          value={as ?? ''}
          placeholder={t('marks_none')}
          onChange={(event) => {
            const field = event.currentTarget;
            const wanted = fullBarsOf(marks).find(({ id }) => words.get(id)?.number === Number(field.value));
            if (!field.value) editor.make({ type: 'apart', bars: ids });
            else if (!wanted || !editor.make({ type: 'as', bars: ids, from: wanted.id }))
              field.value = as === null ? '' : String(as);
          }}
        />
      </Row>
    </>
  );
}
