import { linesOf } from '../../core/chart/edit-lines.ts';
import type { Change } from '../../core/chart/changes.ts';
import type { BarChange } from '../../core/chart/edit-says.ts';
import { barsOf, fullBarsOf, MAX_BARS, placeOf } from '../../core/chart/edit-shape.ts';
import { nextPlace, type NextPlace } from '../../core/chart/edit-systems.ts';
import { sectionsOf } from '../../core/chart/edit-twins.ts';
import { placed } from '../../core/chart/reach.ts';
import { doubtsOf } from '../../core/chart/found.ts';
import type { Bar, Marks, PageBox, System, SystemId } from '../../core/chart/types.ts';
import { plural, t } from '../../host/i18n.ts';
import type { StandContext } from '../mode.ts';
import { NOTHING, type Editor } from './editor.ts';
import type { Target } from './gestures.ts';
import { barName, wordsOf } from './words.ts';

/** One press of an arrow, CSS px of the page at 100 %; with Shift ten times as far. */
const NUDGE = 1;
/** Height of a line drawn by key, a fraction of the page: a staff of 7 mm on a page of 29.7 cm. */
const STAFF = 0.024;

export interface Actions {
  click(target: Target, at: { page: number; x: number; y: number }, extend: boolean): void;
  draw(page: number, box: PageBox): void;
  /** A first line without a pointer: in the middle of the window, to be moved by arrow keys. */
  drawByKey(): void;
  recount(by: 1 | -1): void;
  /** So many bars on the selected line. */
  setCount(bars: number): void;
  split(bar: string | null, x: number | null): void;
  join(): void;
  remove(): void;
  /** Puts the last line's shape where the next line will be, or at `place`. */
  copy(place?: NextPlace): void;
  arrow(dx: number, dy: number, far: boolean): void;
  whole(): void;
  out(): void;
  /** Says something of the selected bars. */
  say(change: BarChange): void;
  /** Selects a bar, brings it into view and the keyboard to it. */
  goTo(bar: Bar): void;
  /** The lines that the selection touches, in reading order. */
  selectedLines(): readonly SystemId[];
  /** Selects the next bar that was found in doubt. */
  nextDoubt(): void;
  /** Selects the next place that has changed by itself. */
  nextChange(): void;
  /** Brings one such place into view. */
  showChange(change: Change): void;
  /** The selected bars are right as they were found; on to the next doubt. */
  vouch(): void;
  /** The section of the selected bar is as the first one of the same name before it. */
  asSameName(): void;
}

/** The line whose shape the next one copies: the selected one, else the last. */
export const shapeOf = (editor: Editor): System | undefined =>
  editor.system() ?? editor.marks.value.systems.at(-1);

export function createActions(context: StandContext, editor: Editor): Actions {
  const { view } = context;
  const present = () => editor.history.peek().present;

  /** After the next drawing the keyboard is where the selection is, unless the player is typing. */
  const focus = () =>
    requestAnimationFrame(() => {
      const typing = document.activeElement?.closest('input, select, textarea');
      if (!typing)
        document.querySelector<HTMLElement>('.marks-sheet [data-current]')?.focus({ preventScroll: true });
    });
  const reveal = (marks: Marks, system: System, bar: Bar) => {
    const box = placed(marks, system, bar);
    view.follow(box, box);
    focus();
  };
  const selectSystem = (id: string) => {
    const marks = present();
    const system = marks.systems.find((each) => each.id === id);
    if (!system) return;
    editor.selection.value = { kind: 'system', system: id };
    reveal(marks, system, system.bars[0]!);
    context.announce(lineText(marks, system));
  };
  const goTo = (bar: Bar) => {
    const marks = present();
    const { system } = placeOf(marks, bar.id);
    editor.selection.value = { kind: 'bars', from: bar.id, to: bar.id };
    reveal(marks, system, bar);
    context.announce(barName(bar, wordsOf(marks).get(bar.id)));
  };
  /** The system that an edit has added. */
  const added = (before: Marks) =>
    present().systems.find(({ id }) => before.systems.every((system) => system.id !== id));
  const selectAdded = (before: Marks) => {
    const system = added(before);
    if (system) selectSystem(system.id);
  };

  const draw = (page: number, box: PageBox) => {
    const before = present();
    const bars = editor.count.peek();
    if (editor.make({ type: 'add-system', page, box, bars })) selectAdded(before);
  };

  const copy = (place?: NextPlace) => {
    const before = present();
    const like = shapeOf(editor);
    if (!like) {
      context.warn(t('marks_start'));
      return;
    }
    const to = place ?? nextPlace(before, like.id, view.pages);
    if (!to) {
      context.warn(t('marks_no_room'));
      return;
    }
    if (editor.make({ type: 'copy-system', system: like.id, place: to })) selectAdded(before);
  };

  const setCount = (bars: number) => {
    const system = editor.system();
    if (bars < 1 || bars > MAX_BARS) return;
    editor.count.value = bars;
    if (!system || !editor.make({ type: 'set-count', system: system.id, bars })) return;
    editor.selection.value = { kind: 'system', system: system.id };
    context.announce(plural('marks_count', bars));
  };

  const say = (change: BarChange) => {
    const bars = editor.bars().map(({ id }) => id);
    if (bars.length === 0) {
      context.announce(t('marks_choose_bar'));
      return;
    }
    if (!editor.make({ type: 'set-bars', bars, change })) return;
    const first = barsOf(present()).find(({ id }) => id === bars[0]);
    if (first) context.announce(barName(first, wordsOf(present()).get(first.id)));
  };

  const nudge = (dx: number, dy: number) => {
    const system = editor.system();
    const size = system && view.sizes[system.page];
    const now = editor.selection.peek();
    if (!system || !size) return;
    if (now.kind === 'system')
      editor.make({ type: 'move-system', system: system.id, dx: dx / size.width, dy: dy / size.height });
    if (now.kind === 'line' && dx !== 0) {
      const x = linesOf(system.bars)[now.line]! + dx / size.width;
      editor.make({ type: 'move-line', system: system.id, line: now.line, x }, true);
    }
  };
  /** From bar to bar; up and down to the line above or below, at the same place in it. */
  const walk = (dx: number, dy: number, extend: boolean) => {
    const now = editor.selection.peek();
    const marks = present();
    const all = barsOf(marks);
    if (now.kind !== 'bars') {
      if (all[0]) goTo(all[0]);
      return;
    }
    const { system, index } = placeOf(marks, now.to);
    const line = marks.systems[marks.systems.indexOf(system) + dy];
    const next =
      dy === 0
        ? all[all.findIndex(({ id }) => id === now.to) + dx]
        : line?.bars[Math.min(index, line.bars.length - 1)];
    if (!next) return;
    goTo(next);
    if (extend) editor.selection.value = { kind: 'bars', from: now.from, to: next.id };
  };

  const nextDoubt = () => {
    const doubts = doubtsOf(present());
    const all = barsOf(present());
    const last = editor.bars().at(-1);
    const from = last === undefined ? -1 : all.findIndex(({ id }) => id === last.id);
    const next = doubts.find((bar) => all.indexOf(bar) > from) ?? doubts[0];
    if (next) goTo(next);
    else context.announce(t('marks_no_doubt'));
  };

  let change = -1;
  const showChange = (one: Change) => {
    const list = editor.learning.changes.peek()?.list ?? [];
    change = list.indexOf(one);
    const bar = barsOf(present()).find(({ id }) => id === one.bar);
    if (bar) {
      goTo(bar);
      return;
    }
    const place = { page: one.page, box: one.box, reach: one.box };
    view.follow(place, place);
    context.announce(t('marks_change_gone', one.page + 1));
  };

  return {
    showChange,
    nextChange() {
      const list = editor.learning.changes.peek()?.list ?? [];
      const next = list[change + 1] ?? list[0];
      if (next) showChange(next);
      else context.announce(t('marks_no_changes'));
    },
    selectedLines() {
      const bars = new Set(editor.bars().map(({ id }) => id));
      const chosen = editor.system()?.id;
      return present()
        .systems.filter(({ id, bars: own }) => id === chosen || own.some((bar) => bars.has(bar.id)))
        .map(({ id }) => id);
    },
    nextDoubt,
    vouch() {
      const selected = editor.bars().length > 0 ? editor.bars() : (editor.system()?.bars ?? []);
      if (selected.length === 0) {
        context.announce(t('marks_choose_bar'));
        return;
      }
      if (editor.make({ type: 'vouch', bars: selected.map(({ id }) => id) })) nextDoubt();
    },
    click(target, at, extend) {
      const now = editor.selection.peek();
      if (target.kind === 'bar') {
        const from = extend && now.kind === 'bars' ? now.from : target.bar;
        editor.selection.value = { kind: 'bars', from, to: target.bar };
      } else if (target.kind === 'line')
        editor.selection.value = { kind: 'line', system: target.system, line: target.line };
      else if (target.kind !== 'page') editor.selection.value = { kind: 'system', system: target.system };
      else {
        const like = shapeOf(editor);
        if (!like) {
          context.announce(t('marks_start'));
          return;
        }
        copy({ page: at.page, top: at.y - (like.bottom - like.top) / 2 });
      }
    },
    draw,
    drawByKey() {
      const at = view.toPage(innerWidth / 3, innerHeight / 2, Infinity);
      if (at) draw(at.page, [0.1, at.y, 0.9, at.y + STAFF]);
    },
    recount(by) {
      editor.count.value = Math.min(MAX_BARS, Math.max(1, editor.count.peek() + by));
    },
    setCount,
    split(bar, x) {
      const at = bar ?? editor.bars()[0]?.id;
      if (at === undefined) {
        context.announce(t('marks_choose_bar'));
        return;
      }
      const { system, index } = placeOf(present(), at);
      // In the middle it stands only until it is put right.
      if (!editor.make({ type: 'add-line', bar: at, x }, x === null)) return;
      editor.selection.value = { kind: 'line', system: system.id, line: index + 1 };
      focus();
    },
    join() {
      const last = editor.bars().at(-1);
      if (!last) {
        context.announce(t('marks_choose_bar'));
        return;
      }
      const { system, index } = placeOf(present(), last.id);
      if (!editor.make({ type: 'remove-line', system: system.id, line: index + 1 })) return;
      const joined = placeOf(
        present(),
        present().systems.find(({ id }) => id === system.id)!.bars[index]!.id,
      );
      goTo(joined.system.bars[index]!);
    },
    remove() {
      const now = editor.selection.peek();
      const system = editor.system();
      if (!system) return;
      if (now.kind === 'line') {
        if (!editor.make({ type: 'remove-line', system: system.id, line: now.line })) return;
        editor.selection.value = { kind: 'system', system: system.id };
        context.announce(t('marks_removed_line'));
      } else if (now.kind === 'system') {
        const before = present().systems[present().systems.indexOf(system) - 1];
        if (!editor.make({ type: 'remove-system', system: system.id })) return;
        if (before) selectSystem(before.id);
        context.announce(t('marks_removed_system'));
      } else {
        // A bar alone cannot go: the music would have a hole. The line can, at the next press.
        selectSystem(system.id);
        context.announce(t('marks_remove_again'));
      }
    },
    copy,
    arrow(dx, dy, far) {
      const { kind } = editor.selection.peek();
      const by = NUDGE * (far ? 10 : 1);
      if (kind === 'system' || kind === 'line') nudge(dx * by, dy * by);
      else walk(dx, dy, far);
    },
    whole() {
      const system = editor.system() ?? present().systems[0];
      if (system) selectSystem(system.id);
    },
    out() {
      const system = editor.system();
      const { kind } = editor.selection.peek();
      editor.selection.value = system && kind !== 'system' ? { kind: 'system', system: system.id } : NOTHING;
    },
    say,
    goTo,
    asSameName() {
      const [bar] = editor.bars();
      const sections = sectionsOf(present());
      const own = sections.find((each) => bar && (each.start === bar.id || each.bars.includes(bar.id)));
      const like = sections.find((each) => each.name === own?.name);
      if (!own || own.name === '' || !like || like === own) {
        context.warn(t('marks_no_same_name'));
        return;
      }
      // The last section runs to the end until the next one is named: then only as many bars are meant.
      const openEnded = own === sections.at(-1) && own.bars.length > like.bars.length;
      const bars = own.bars.slice(0, like.bars.length);
      const made = openEnded
        ? editor.make({ type: 'as', bars, from: like.bars[0]! })
        : editor.make({ type: 'as-section', section: own.start, like: like.start });
      if (!made) return;
      const numbers = wordsOf(present());
      context.announce(t('marks_said_as', own.name, numbers.get(like.bars[0]!)?.number ?? 1));
    },
  };
}

const lineText = (marks: Marks, system: System): string =>
  t(
    'marks_line_with',
    marks.systems.findIndex(({ id }) => id === system.id) + 1,
    plural('marks_count', system.bars.length),
  );

/** The next name that S gives a bar: first a new letter, then those in use, then none. */
export function nextSection(marks: Marks, bar: Bar): string | null {
  const used = [...new Set(fullBarsOf(marks).flatMap((each) => each.section ?? []))];
  const others = used.filter((name) => name !== bar.section || count(marks, name) > 1);
  const letters = Array.from('ABCDEFGHIJKLMNOPQRSTUVWXYZ');
  const fresh = letters.find((letter) => !others.includes(letter)) ?? 'A';
  const cycle: (string | null)[] = [fresh, ...others.filter((name) => name !== fresh), null];
  return bar.section === undefined ? fresh : (cycle[cycle.indexOf(bar.section) + 1] ?? null);
}

const count = (marks: Marks, name: string) => barsOf(marks).filter((bar) => bar.section === name).length;
