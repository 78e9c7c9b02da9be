import { boxOf } from '../../core/chart/edit-shape.ts';
import { linesOf } from '../../core/chart/edit-lines.ts';
import { isInDoubt } from '../../core/chart/found.ts';
import type { Bar, BarId, System } from '../../core/chart/types.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Editor } from './editor.ts';
import { Signs } from './Signs.tsx';
import { barName, numbersAt, ranges, type BarWords } from './words.ts';

interface SystemBoxProps {
  readonly system: System;
  /** Place among all systems, from 0. */
  readonly line: number;
  /** How far the lines above and below are; fractions of the page's height. */
  readonly gaps: readonly [above: number, below: number];
  /** Where its staff begins, fraction of the page's width. */
  readonly start: number;
  readonly words: ReadonlyMap<BarId, BarWords>;
  readonly editor: Editor;
  /** Bars that a question is about. */
  readonly lit: ReadonlySet<BarId>;
}

const percent = (fraction: number) => `${100 * fraction}%`;
/** Reached by keyboard; a pointer selects by what it does. */
const byKeyboard = (event: FocusEvent) => (event.currentTarget as Element).matches(':focus-visible');

/** One line of music: its bars, and when it is selected the grips of its lines and edges. */
export function SystemBox({ system, line, gaps, start, words, editor, lit }: SystemBoxProps) {
  const selection = editor.selection.value;
  const chosen = editor.system()?.id === system.id;
  const bars = new Set(editor.bars().map(({ id }) => id));
  const [, , x1] = boxOf(system);
  const whole = selection.kind === 'system' && chosen;
  return (
    <div
      class={chosen ? 'marks-system chosen' : 'marks-system'}
      style={{
        top: percent(system.top),
        height: percent(system.bottom - system.top),
        // The overlay is as high as the page (view.css).
        '--staff': `${100 * (system.bottom - system.top)}cqh`,
        // No farther than the page's edge.
        '--above': `${100 * Math.min(gaps[0], system.top)}cqh`,
        '--below': `${100 * Math.min(gaps[1], 1 - system.bottom)}cqh`,
      }}
    >
      {chosen && <Handle system={system} line={line} editor={editor} x={start} current={whole} />}
      <div
        role="listbox"
        aria-label={t('marks_line_with', line + 1, plural('marks_count', system.bars.length))}
        aria-orientation="horizontal"
        aria-multiselectable="true"
      >
        {system.bars.map((bar, i) => (
          <BarBox
            key={bar.id}
            bar={bar}
            system={system}
            words={words.get(bar.id)}
            chosen={bars.has(bar.id) || whole}
            isLit={lit.has(bar.id)}
            current={selection.kind === 'bars' && selection.to === bar.id}
            tab={selection.kind === 'bars' && chosen ? selection.to === bar.id : i === 0}
            editor={editor}
          />
        ))}
      </div>
      {system.bars.map((bar, i, { [i - 1]: before, [i + 1]: after }) => (
        <Said key={bar.id} {...{ bar, before, after, start }} words={words.get(bar.id)} />
      ))}
      {linesOf(system.bars).map((x, i) => (
        <Line key={i} system={system} index={i} x={x} chosen={chosen} editor={editor} />
      ))}
      {chosen && (
        <>
          <Edge system={system} edge="top" x={x1} editor={editor} />
          <Edge system={system} edge="bottom" x={x1} editor={editor} />
        </>
      )}
    </div>
  );
}

interface BarBoxProps {
  readonly bar: Bar;
  readonly system: System;
  readonly words: BarWords | undefined;
  readonly chosen: boolean;
  readonly isLit: boolean;
  readonly current: boolean;
  readonly tab: boolean;
  readonly editor: Editor;
}

function BarBox({ bar, system, words, chosen, isLit, current, tab, editor }: BarBoxProps) {
  return (
    <div
      role="option"
      class={`marks-bar${chosen ? ' chosen' : ''}${isInDoubt(bar) ? ' doubt' : ''}${isLit ? ' lit' : ''}`}
      style={{ left: percent(bar.x0), width: percent(bar.x1 - bar.x0) }}
      tabIndex={tab ? 0 : -1}
      aria-selected={chosen}
      aria-label={barName(bar, words)}
      data-mark="bar"
      data-bar={bar.id}
      data-system={system.id}
      data-current={current || undefined}
      onFocus={(event) => {
        if (byKeyboard(event) && !current)
          editor.selection.value = { kind: 'bars', from: bar.id, to: bar.id };
      }}
    />
  );
}

interface SaidProps extends Pick<BarBoxProps, 'bar' | 'words'> {
  readonly before: Bar | undefined;
  readonly after: Bar | undefined;
  readonly start: number;
}

/** What is said of a bar, for the eye: screen readers have it in the bar's name. */
function Said({ bar, before, after, start, words }: SaidProps) {
  return (
    <div
      class="marks-said"
      aria-hidden="true"
      style={{ left: percent(bar.x0), width: percent(bar.x1 - bar.x0) }}
    >
      <Signs {...{ bar, before, after, start }} />
      <span class="marks-number">
        {bar.pickup === undefined && !bar.continues && words && <b>{ranges(numbersAt(bar, words.number))}</b>}
        {words?.as != null && <span class="as">{t('marks_as', words.as)}</span>}
        {bar.pickup !== undefined && <span>{t('marks_pickup')}</span>}
        {bar.continues && <span>{t('marks_continues')}</span>}
        {bar.silent && <span>{t('marks_silent')}</span>}
        {bar.leadIn !== undefined && <span>{t('marks_lead_in_short', bar.leadIn)}</span>}
      </span>
    </div>
  );
}

interface LineProps {
  readonly system: System;
  readonly index: number;
  readonly x: number;
  readonly chosen: boolean;
  readonly editor: Editor;
}

function Line({ system, index, x, chosen, editor }: LineProps) {
  const selection = editor.selection.value;
  const current = selection.kind === 'line' && selection.system === system.id && selection.line === index;
  return (
    <div
      role="slider"
      class={current ? 'marks-line current' : 'marks-line'}
      style={{ left: percent(x) }}
      tabIndex={chosen ? 0 : -1}
      aria-label={t('marks_bar_line', index + 1)}
      aria-valuenow={Math.round(1000 * x) / 10}
      aria-valuetext={t('marks_percent', Math.round(1000 * x) / 10)}
      aria-orientation="horizontal"
      aria-hidden={!chosen}
      data-mark="line"
      data-system={system.id}
      data-line={index}
      data-current={current || undefined}
      onFocus={(event) => {
        if (byKeyboard(event)) editor.selection.value = { kind: 'line', system: system.id, line: index };
      }}
    >
      {chosen && (
        <svg class="marks-grip" viewBox="0 0 14 24" aria-hidden="true">
          <ellipse cx="7" cy="12" rx="5.6" ry="10.6" />
          <path d="M4 8.4 10 6.6M3.2 12.9 10.8 10.6M3.6 16.9 10.4 15" />
        </svg>
      )}
    </div>
  );
}

interface HandleProps {
  readonly system: System;
  readonly line: number;
  readonly x: number;
  readonly current: boolean;
  readonly editor: Editor;
}

/** Left of the line: takes hold of it as a whole. */
function Handle({ system, line, x, current, editor }: HandleProps) {
  return (
    <div
      role="slider"
      class={current ? 'marks-handle current' : 'marks-handle'}
      style={{ left: percent(x) }}
      tabIndex={0}
      aria-label={t('marks_whole_line', line + 1)}
      aria-valuenow={Math.round(1000 * system.top) / 10}
      aria-valuetext={t('marks_percent', Math.round(1000 * system.top) / 10)}
      aria-orientation="vertical"
      data-mark="handle"
      data-system={system.id}
      data-current={current || undefined}
      onFocus={(event) => {
        if (byKeyboard(event)) editor.selection.value = { kind: 'system', system: system.id };
      }}
    />
  );
}

interface EdgeProps {
  readonly system: System;
  readonly edge: 'top' | 'bottom';
  readonly x: number;
  readonly editor: Editor;
}

/** Right of the line: its top or bottom edge. Arrow keys move it by themselves. */
function Edge({ system, edge, x, editor }: EdgeProps) {
  const value = edge === 'top' ? system.top : system.bottom;
  return (
    <div
      role="slider"
      class={`marks-edge ${edge}`}
      style={{ left: percent(x) }}
      tabIndex={0}
      aria-label={t(edge === 'top' ? 'marks_edge_top' : 'marks_edge_bottom')}
      aria-valuenow={Math.round(1000 * value) / 10}
      aria-valuetext={t('marks_percent', Math.round(1000 * value) / 10)}
      aria-orientation="vertical"
      data-mark="edge"
      data-system={system.id}
      data-edge={edge}
      onKeyDown={(event) => {
        const by = { ArrowUp: -0.001, ArrowDown: 0.001 }[event.code];
        if (by === undefined) return;
        event.preventDefault();
        const to = value + by * (event.shiftKey ? 10 : 1);
        const { top, bottom } = edge === 'top' ? { ...system, top: to } : { ...system, bottom: to };
        editor.make({ type: 'resize-system', system: system.id, top, bottom });
      }}
    />
  );
}
