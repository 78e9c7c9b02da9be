import type { ReadonlySignal, Signal } from '@preact/signals';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { barsOf } from '../../core/chart/edit-shape.ts';
import { beatsOf, unitOf } from '../../core/chart/meter.ts';
import { planOf } from '../../core/chart/plan.ts';
import { problemsOf } from '../../core/chart/problems.ts';
import { isLoose } from '../../core/chart/turn.ts';
import type { Marks, Numbers } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';
import { usualGaps } from '../../core/ladder/index.ts';
import type { Settings } from '../../store/types.ts';
import type { Handlers } from '../../ui/commands.ts';
import { CommandButton } from '../CommandButton.tsx';
import type { StandContext } from '../mode.ts';
import { PlanPanel } from '../plan/PlanPanel.tsx';
import type { TuneInFile } from '../../core/find/tunes.ts';
import { BookProgress, TunesSheet } from '../find/Tunes.tsx';
import type { Actions } from './actions.ts';
import { AlikePanel } from './AlikePanel.tsx';
import type { Asking } from './asking.ts';
import { BarPanel } from './BarPanel.tsx';
import { ChangesPanel } from './ChangesPanel.tsx';
import type { Editor } from './editor.ts';
import { Form, FormFields } from './FormPanel.tsx';
import { FoundPanel } from './FoundPanel.tsx';
import { Beats, MeterField, unitName, UnitField } from './fields.tsx';
import { SystemPanel } from './SystemPanel.tsx';
import { problemText, sizeText } from './words.ts';

export interface RailProps {
  readonly context: StandContext;
  readonly editor: Editor;
  readonly actions: Actions;
  readonly asking: Asking;
  readonly numbers: Signal<Numbers>;
  readonly handlers: Handlers;
  readonly settings: ReadonlySignal<Settings>;
  /** The tunes of the file are listed. */
  readonly choosing: Signal<boolean>;
  /** To a tune of the file; null: the one in view. */
  readonly toTune: (tune: TuneInFile | null) => void;
}

/** The rail while the page is marked. */
export function MarksRail(props: RailProps) {
  const { context, editor, actions, asking, numbers, handlers, settings, choosing, toTune } = props;
  const { drill } = settings.value;
  const marks = editor.marks.value;
  const plan = planOf(marks, numbers.value);
  const empty = barsOf(marks).length === 0;
  /** There is a page that can still be turned. */
  const canTurn = context.view.sizes.some((_, page) => isLoose(marks, page));
  const lines = editor.selection.value.kind === 'none' ? 0 : actions.selectedLines().length;
  const canPart = lines > 0 && lines < marks.systems.length;
  return (
    <div class="marks-rail">
      <header>
        <Title context={context} />
        <p>{empty ? t('marks_start') : sizeText(marks)}</p>
        <div class="marks-undo">
          <CommandButton id="marks-undo" label="marks_cmd_undo" handlers={handlers} class="plain" />
          <CommandButton id="marks-redo" label="marks_cmd_redo" handlers={handlers} class="plain" />
          <CommandButton id="marks-find" label="marks_cmd_find" handlers={handlers} class="plain" />
          {canTurn && (
            <CommandButton id="marks-turn" label="marks_cmd_turn" handlers={handlers} class="plain" />
          )}
          {canPart && (
            <CommandButton id="marks-part" label="marks_cmd_part" handlers={handlers} class="plain" />
          )}
          {(context.view.pages > 1 || context.book.tunes.value.length > 1) && (
            <CommandButton id="marks-another" label="marks_cmd_another" handlers={handlers} class="plain" />
          )}
        </div>
        <BookProgress book={context.book} />
      </header>
      <ChangesPanel editor={editor} actions={actions} handlers={handlers} />
      {choosing.value && (
        <TunesSheet book={context.book} choose={toTune} close={() => (choosing.value = false)} />
      )}
      {plan.bars.length > 0 && <Form plan={plan} marks={marks} actions={actions} />}
      <FoundPanel marks={marks} handlers={handlers} />
      <AlikePanel marks={marks} asking={asking} view={context.view} handlers={handlers} />
      <Doubts marks={marks} pages={context.view.pages} actions={actions} />
      <SystemPanel editor={editor} actions={actions} />
      <BarPanel editor={editor} actions={actions} />
      {!empty && <Start editor={editor} />}
      {!empty && <FormFields editor={editor} actions={actions} announce={context.announce} />}
      {plan.bars.length > 0 && (
        <PlanPanel
          plan={plan}
          gaps={{ ...usualGaps, gap: drill.gap, countIn: drill.countIn }}
          onChange={(next: Numbers) => (numbers.value = next)}
        />
      )}
      {!empty && (
        <footer class="marks-foot">
          <Begin context={context} handlers={handlers} />
        </footer>
      )}
    </div>
  );
}

/** The chart's name, to be changed where it stands: one line of text on as many lines as it needs. */
function Title({ context }: { readonly context: StandContext }) {
  const { name } = context.state.value;
  const grower = useRef<HTMLDivElement>(null);
  const field = useRef<HTMLTextAreaElement>(null);
  const show = (text: string) => {
    field.current!.value = text;
    grower.current!.dataset['text'] = text;
  };
  // Not as a property: whatever else is drawn anew would undo what is being typed.
  useLayoutEffect(() => {
    if (document.activeElement !== field.current) show(name);
  }, [name]);
  return (
    // What is typed is written behind the field, too: that makes both as high as it is (marks.css).
    <div class="marks-title" ref={grower}>
      <textarea
        ref={field}
        rows={1}
        spellcheck={false}
        aria-label={t('marks_name')}
        maxLength={120}
        readOnly={!context.writing.value}
        onKeyDown={(event) => {
          if (event.key !== 'Enter' || event.isComposing) return;
          event.preventDefault();
          event.currentTarget.blur();
        }}
        onInput={({ currentTarget }) => (grower.current!.dataset['text'] = currentTarget.value)}
        onChange={({ currentTarget }) => {
          const wanted = currentTarget.value.replace(/\s+/g, ' ').trim() || name;
          show(wanted);
          if (wanted !== name) void context.append([{ type: 'named', name: wanted }]).catch(() => undefined);
        }}
      />
    </div>
  );
}

interface DoubtsProps {
  readonly marks: Marks;
  readonly pages: number;
  readonly actions: Actions;
}

/** Marks that do not fit: each in one line that says what to do, and leads there. */
function Doubts({ marks, pages, actions }: DoubtsProps) {
  const bars = barsOf(marks);
  const doubts = problemsOf(marks, pages).map((problem) => ({
    bar: bars.find(({ id }) => id === problem.bar),
    text: problemText(marks, problem),
  }));
  if (doubts.length === 0) return null;
  return (
    <section class="marks-doubt" aria-label={t('marks_doubt')}>
      <h2>{t('marks_doubt')}</h2>
      {doubts.slice(0, 4).map(({ bar, text }) => (
        <p key={text}>
          {text} {bar && <button onClick={() => actions.goTo(bar)}>{t('marks_show')}</button>}
        </p>
      ))}
    </section>
  );
}

/** Meter, unit and pickup at the start. */
function Start({ editor }: { readonly editor: Editor }) {
  const marks = editor.marks.value;
  const first = barsOf(marks)[0]!;
  const usual = unitOf(marks.meter, null);
  return (
    <div>
      <MeterField
        name={t('marks_meter_row')}
        meter={marks.meter}
        change={(meter) => meter && editor.make({ type: 'set-start', change: { meter } })}
      />
      <UnitField
        name={t('marks_unit_row')}
        unit={marks.unit}
        none={unitName(usual)}
        change={(unit) => editor.make({ type: 'set-start', change: { unit } })}
      />
      <Beats
        name={t('marks_pickup_row')}
        beats={first.pickup ?? null}
        below={beatsOf(marks.meter, unitOf(marks.meter, marks.unit))}
        change={(pickup) => editor.make({ type: 'set-bars', bars: [first.id], change: { pickup } })}
      />
    </div>
  );
}

/** The one button: into the drill, at the start or where it was left. */
function Begin({ context, handlers }: Pick<RailProps, 'context' | 'handlers'>) {
  const { step, plan, passes } = context.state.value;
  const bar = step && plan ? plan.plan.bars[step.from % plan.plan.bars.length]?.number : undefined;
  return (
    <button
      class="first marks-begin"
      data-command="marks-begin"
      disabled={!context.writing.value}
      onClick={() => handlers['marks-begin']?.('touch')}
    >
      {passes > 0 && bar !== undefined ? t('marks_continue', bar) : t('marks_begin')}
    </button>
  );
}
