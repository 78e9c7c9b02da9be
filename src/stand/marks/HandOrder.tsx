import { useRef } from 'preact/hooks';
import { stretchesOf } from '../../core/chart/by-hand.ts';
import { MAX_STRETCHES } from '../../core/chart/conventions.ts';
import { barsOf } from '../../core/chart/edit-shape.ts';
import { routeFrom, startsSection } from '../../core/chart/route.ts';
import type { Marks, Stretch } from '../../core/chart/types.ts';
import type { WrittenBar } from '../../core/chart/written.ts';
import { t, type MessageKey } from '../../host/i18n.ts';
import type { Actions } from './actions.ts';
import type { Editor } from './editor.ts';
import { sectionText } from './words.ts';

interface HandOrderProps {
  readonly editor: Editor;
  readonly actions: Actions;
  readonly announce: (text: string) => void;
}

/** The route as a list of stretches that the player sets in order: for pages whose signs say something else. */
export function HandOrder({ editor, actions, announce }: HandOrderProps) {
  const list = useRef<HTMLDivElement>(null);
  const marks = editor.marks.value;
  const order = marks.byHand;
  if (order === undefined)
    return (
      <button
        class="marks-by-hand"
        onClick={() => editor.make({ type: 'set-form', change: { byHand: stretchesOf(marks) } })}
      >
        {t('marks_by_hand')}
      </button>
    );
  const bars = routeFrom(marks).written;
  const names = order.map((stretch) => nameOf(bars, stretch));
  /** Keeps a new order, says it, and keeps the keyboard on the row that was changed. */
  const keep = (byHand: readonly Stretch[], said: string, row: number, button: string) => {
    if (!editor.make({ type: 'set-form', change: { byHand } })) return;
    announce(said);
    requestAnimationFrame(() => {
      const near = list.current?.querySelector<HTMLElement>(`li:nth-child(${row + 1}) [data-do="${button}"]`);
      near?.focus();
      if (near?.matches(':disabled'))
        list.current?.querySelector<HTMLElement>(`li:nth-child(${row + 1}) button`)?.focus();
    });
  };
  const move = (i: number, by: -1 | 1) => {
    const next = order.with(i, order[i + by]!).with(i + by, order[i]!);
    keep(next, t('marks_order_moved', names[i]!, i + by + 1), i + by, by < 0 ? 'up' : 'down');
  };
  const isFull = order.length >= MAX_STRETCHES;
  return (
    <div class="marks-order" ref={list} role="group" aria-label={t('marks_order')}>
      <h2>{t('marks_order')}</h2>
      <ol>
        {order.map((stretch, i) => {
          const act = (what: string, key: MessageKey, sign: string, isOff: boolean, run: () => void) => (
            <button
              class="plain"
              data-do={what}
              disabled={isOff}
              title={t(key, names[i]!)}
              aria-label={t(key, names[i]!)}
              onClick={run}
            >
              {sign}
            </button>
          );
          const set = (change: Partial<Stretch>) =>
            editor.make({ type: 'set-form', change: { byHand: order.with(i, { ...stretch, ...change }) } });
          return (
            <li key={i}>
              <button class="plain marks-order-name" onClick={() => show(marks, stretch, actions)}>
                {sectionAt(bars, stretch.from) || t('marks_form_unnamed')}
              </button>
              <NumberOf
                bars={bars}
                id={stretch.from}
                name={t('marks_order_from', i + 1)}
                set={(from) => set({ from })}
              />
              <span aria-hidden="true">–</span>
              <NumberOf
                bars={bars}
                id={stretch.to}
                name={t('marks_order_to', i + 1)}
                set={(to) => set({ to })}
              />
              {act('up', 'marks_order_up', '↑', i === 0, () => move(i, -1))}
              {act('down', 'marks_order_down', '↓', i === order.length - 1, () => move(i, 1))}
              {act('again', 'marks_order_again', '+', isFull, () =>
                keep(order.toSpliced(i, 0, stretch), t('marks_order_added', names[i]!), i + 1, 'again'),
              )}
              {act('remove', 'marks_order_remove', '×', order.length === 1, () =>
                keep(
                  order.toSpliced(i, 1),
                  t('marks_order_removed', names[i]!),
                  Math.min(i, order.length - 2),
                  'remove',
                ),
              )}
            </li>
          );
        })}
      </ol>
      <div class="marks-buttons">
        <AddSection
          bars={bars}
          isFull={isFull}
          add={(stretch) =>
            keep([...order, stretch], t('marks_order_added', nameOf(bars, stretch)), order.length, 'again')
          }
        />
        <button onClick={() => editor.make({ type: 'set-form', change: { byHand: null } })}>
          {t('marks_by_signs')}
        </button>
      </div>
    </div>
  );
}

const indexOf = (bars: readonly WrittenBar[], id: string) => bars.findIndex(({ ids }) => ids.includes(id));

function numbersOf(bars: readonly WrittenBar[], { from, to }: Stretch): number[] {
  const [a, b] = [indexOf(bars, from), indexOf(bars, to)];
  return bars
    .slice(Math.min(a, b), Math.max(a, b) + 1)
    .flatMap((bar) => Array.from({ length: bar.bars }, (_, i) => bar.number + i));
}

function sectionAt(bars: readonly WrittenBar[], id: string): string {
  const start = bars.slice(0, indexOf(bars, id) + 1).findLast((bar) => startsSection(bar));
  return start === undefined ? '' : (start.section ?? t('marks_coda_name'));
}

const nameOf = (bars: readonly WrittenBar[], stretch: Stretch): string =>
  sectionText(sectionAt(bars, stretch.from), numbersOf(bars, stretch));

function show(marks: Marks, { from }: Stretch, actions: Actions): void {
  const bar = barsOf(marks).find(({ id }) => id === from);
  if (bar) actions.goTo(bar);
}

interface NumberOfProps {
  readonly bars: readonly WrittenBar[];
  readonly id: string;
  readonly name: string;
  readonly set: (id: string) => void;
}

/** A bar by its number. What is no bar's number is put back. */
function NumberOf({ bars, id, name, set }: NumberOfProps) {
  const number = bars[indexOf(bars, id)]?.number ?? 0;
  return (
    <input
      type="number"
      min="1"
      aria-label={name}
      value={number}
      onChange={(event) => {
        const field = event.currentTarget;
        const wanted = Number(field.value);
        const bar = bars.find((each) => wanted >= each.number && wanted < each.number + each.bars);
        if (bar && Number.isInteger(wanted)) set(bar.id);
        else field.value = String(number);
      }}
    />
  );
}

interface AddSectionProps {
  readonly bars: readonly WrittenBar[];
  readonly isFull: boolean;
  readonly add: (stretch: Stretch) => void;
}

/** Puts a section, or all bars, at the end of the order. */
function AddSection({ bars, isFull, add }: AddSectionProps) {
  const starts = bars.flatMap((bar, i) => (i === 0 || startsSection(bar) ? [i] : []));
  const stretches = starts.map((from, k) => ({
    from: bars[from]!.id,
    to: bars[(starts[k + 1] ?? bars.length) - 1]!.id,
  }));
  return (
    <select
      value=""
      disabled={isFull}
      aria-label={t('marks_order_add')}
      onChange={(event) => {
        const stretch = stretches[Number(event.currentTarget.value)];
        event.currentTarget.value = '';
        if (stretch) add(stretch);
      }}
    >
      <option value="">{t('marks_order_add')}</option>
      {stretches.map((stretch, i) => (
        <option key={stretch.from} value={i}>
          {nameOf(bars, stretch)}
        </option>
      ))}
    </select>
  );
}
