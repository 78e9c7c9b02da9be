import { useSignal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { barsOf } from '../../core/chart/edit-shape.ts';
import { MAX_CHORUSES, usualConventions } from '../../core/chart/conventions.ts';
import type { Conventions, Marks, Plan, RouteBar } from '../../core/chart/types.ts';
import { plural, t, type MessageKey } from '../../host/i18n.ts';
import { FormRope } from '../../ui/rope/FormRope.tsx';
import type { Actions } from './actions.ts';
import type { Editor } from './editor.ts';
import { Check, Row } from './fields.tsx';
import { HandOrder } from './HandOrder.tsx';
import { formNotes } from './words.ts';

interface FormProps {
  readonly plan: Plan;
  readonly marks: Marks;
  readonly actions: Actions;
}

/** The route as letters along the rope; under the one that is chosen its bars, so that any place can be reached. */
export function Form({ plan, marks, actions }: FormProps) {
  const picked = useSignal(0);
  const chosen = Math.min(picked.value, plan.sections.length - 1);
  const section = plan.sections[chosen]!;
  const parts = plan.sections.map(({ name, from, to }, i) => ({
    name: name || t('marks_form_unnamed'),
    again: plan.bars.slice(from, to + 1).every((bar) => bar.twin < from),
    current: i === chosen,
  }));
  const go = (place: RouteBar) => {
    const bar = barsOf(marks).find((each) => each.id === place.bar);
    if (bar) actions.goTo(bar);
  };
  return (
    <div>
      {parts.length > 1 && (
        <FormRope
          parts={parts}
          pick={(index) => {
            picked.value = index;
            go(plan.bars[plan.sections[index]!.from]!);
          }}
          name={t('marks_form')}
        />
      )}
      {parts.length > 1 && (
        <div class="marks-places" role="group" aria-label={t('marks_form_bars', parts[chosen]!.name)}>
          {plan.bars.slice(section.from, section.to + 1).map((bar, i) => (
            <button key={i} class="plain" aria-label={t('marks_bar', bar.number)} onClick={() => go(bar)}>
              {bar.number}
            </button>
          ))}
        </div>
      )}
      {formNotes(plan).map((note) => (
        <p key={note}>{note}</p>
      ))}
    </div>
  );
}

/** Each switch with its value when it is on; all are off as usual. */
const SWITCHES = [
  ['marks_way_repeats', { repeatsAfterJump: true }],
  ['marks_way_ending', { endingAfterJump: 'first' }],
  ['marks_way_jump', { jumpAfterRepeats: false }],
  ['marks_way_fine', { fineAtOnce: true }],
  ['marks_way_to_coda', { codaAtOnce: true }],
  ['marks_way_coda', { codaLastChorus: false }],
] as const satisfies readonly (readonly [MessageKey, Partial<Conventions>])[];

interface FormFieldsProps {
  readonly editor: Editor;
  readonly actions: Actions;
  readonly announce: (text: string) => void;
}

/** How the form goes as a whole: choruses, how signs are read, and the order put right by hand. */
export function FormFields({ editor, actions, announce }: FormFieldsProps) {
  const marks = editor.marks.value;
  const now = { ...usualConventions, ...marks.conventions };
  const isByHand = marks.byHand !== undefined;
  // Only at first: the last switch that is put back must not close them all.
  const [isSwitched] = useState(marks.conventions !== undefined);
  return (
    <div>
      {!isByHand && <Choruses editor={editor} />}
      {!isByHand && (
        <details class="marks-ways" open={isSwitched}>
          <summary>{t('marks_ways')}</summary>
          {SWITCHES.map(([name, on]) => {
            const [key, value] = Object.entries(on)[0] as [keyof Conventions, Conventions[keyof Conventions]];
            return (
              <Check
                key={name}
                name={t(name)}
                on={now[key] === value}
                change={(isOn) =>
                  editor.make({
                    type: 'set-form',
                    change: { conventions: { [key]: isOn ? value : usualConventions[key] } },
                  })
                }
              />
            );
          })}
        </details>
      )}
      <HandOrder editor={editor} actions={actions} announce={announce} />
    </div>
  );
}

/** Times the whole form sounds. What is no such number is put back. */
function Choruses({ editor }: { readonly editor: Editor }) {
  const choruses = editor.marks.value.choruses ?? 1;
  return (
    <Row name={t('marks_choruses')}>
      <input
        type="number"
        min="1"
        max={MAX_CHORUSES}
        value={choruses}
        aria-description={plural('marks_choruses_note', choruses)}
        onChange={(event) => {
          const field = event.currentTarget;
          const wanted = Number(field.value);
          if (Number.isInteger(wanted) && wanted >= 1 && wanted <= MAX_CHORUSES)
            editor.make({ type: 'set-form', change: { choruses: wanted } });
          else field.value = String(choruses);
        }}
      />
    </Row>
  );
}
