import { signal, type ReadonlySignal } from '@preact/signals';
import { linesOf } from '../../core/chart/edit-lines.ts';
import { systemOf } from '../../core/chart/edit-shape.ts';
import type { Edit } from '../../core/chart/edit.ts';
import type { PageBox, SystemId } from '../../core/chart/types.ts';
import type { PagePoint, StandContext } from '../mode.ts';
import type { Editor } from './editor.ts';

/** What lies under the pointer. */
export type Target =
  | { readonly kind: 'page' }
  | { readonly kind: 'bar'; readonly system: SystemId; readonly bar: string }
  | { readonly kind: 'handle'; readonly system: SystemId }
  | { readonly kind: 'line'; readonly system: SystemId; readonly line: number }
  | { readonly kind: 'edge'; readonly system: SystemId; readonly edge: 'top' | 'bottom' };

/**
 * What a pointer is doing:
 *
 *     idle ──hover──▶ hovering ──press──▶ pressed ──let go──▶ a click (select, place) ─▶ idle
 *                                            │ moved far enough
 *                                            ├─ on the page ───────▶ drawing ──let go──▶ a system ─▶ idle
 *                                            └─ on line, edge, bar ▶ dragging ─let go──▶ an edit ──▶ idle
 *
 * A second finger or a cancelled pointer leads back to idle from anywhere, and nothing is changed.
 */
export type Gesture =
  | { readonly kind: 'idle' }
  | { readonly kind: 'hovering'; readonly at: PagePoint }
  | { readonly kind: 'pressed'; readonly pointer: number; readonly target: Target; readonly from: Press }
  | { readonly kind: 'drawing'; readonly pointer: number; readonly page: number; readonly box: PageBox }
  | { readonly kind: 'dragging'; readonly pointer: number; readonly target: Target; readonly from: Press };

interface Press {
  readonly at: PagePoint;
  readonly clientX: number;
  readonly clientY: number;
}

/** A press that moves less than so many px is a click. */
const FAR = 6;
const IDLE: Gesture = { kind: 'idle' };

export interface Gestures {
  readonly now: ReadonlySignal<Gesture>;
  readonly handlers: {
    readonly onPointerDown: (event: PointerEvent) => void;
    readonly onPointerMove: (event: PointerEvent) => void;
    readonly onPointerUp: (event: PointerEvent) => void;
    readonly onPointerCancel: (event: PointerEvent) => void;
    readonly onPointerLeave: (event: PointerEvent) => void;
    readonly onWheel: (event: WheelEvent) => void;
    readonly onDblClick: (event: MouseEvent) => void;
  };
  cancel(): void;
}

/** Reads the target from the data attributes that the overlay's elements carry. */
function targetOf({ target }: { readonly target: EventTarget | null }): Target {
  const element = target instanceof Element ? target.closest<HTMLElement>('[data-mark]') : null;
  const { mark, system = '', bar = '', line = '0', edge } = element?.dataset ?? {};
  if (mark === 'bar') return { kind: 'bar', system, bar };
  if (mark === 'handle') return { kind: 'handle', system };
  if (mark === 'line') return { kind: 'line', system, line: Number(line) };
  if (mark === 'edge') return { kind: 'edge', system, edge: edge === 'top' ? 'top' : 'bottom' };
  return { kind: 'page' };
}

export interface GestureActions {
  /** A click; `extend` with Shift held. */
  click(target: Target, at: PagePoint, extend: boolean): void;
  /** A system has been drawn. */
  draw(page: number, box: PageBox): void;
  /** How many bars the system being drawn gets: one more or fewer. */
  recount(by: 1 | -1): void;
  /** A new line through a bar. */
  split(bar: string, x: number): void;
}

/** Turns pointer events (mouse, pen, touch alike) into edits. */
export function createGestures(context: StandContext, editor: Editor, actions: GestureActions): Gestures {
  const now = signal<Gesture>(IDLE);
  const cancel = () => {
    editor.drop();
    now.value = IDLE;
  };

  /** The edit that a drag from `from` to `to` comes to. */
  const dragged = (target: Target, from: PagePoint, to: PagePoint): Edit | null => {
    if (target.kind === 'page') return null;
    const before = systemOf(editor.history.peek().present, target.system);
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    switch (target.kind) {
      case 'line': {
        const x = linesOf(before.bars)[target.line]! + dx;
        return { type: 'move-line', system: before.id, line: target.line, x };
      }
      case 'edge': {
        const { top, bottom } = before;
        return target.edge === 'top'
          ? { type: 'resize-system', system: before.id, top: top + dy, bottom }
          : { type: 'resize-system', system: before.id, top, bottom: bottom + dy };
      }
      default:
        return { type: 'move-system', system: before.id, dx, dy };
    }
  };

  const onPointerDown = (event: PointerEvent) => {
    if (event.button !== 0) return;
    if (!event.isPrimary) {
      cancel();
      return;
    }
    const at = context.view.toPage(event.clientX, event.clientY);
    if (!at) return;
    const target = targetOf(event);
    if (target.kind !== 'page' || event.pointerType === 'mouse')
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
    const from = { at, clientX: event.clientX, clientY: event.clientY };
    now.value = { kind: 'pressed', pointer: event.pointerId, target, from };
  };

  const onPointerMove = (event: PointerEvent) => {
    const gesture = now.peek();
    if (gesture.kind === 'idle' || gesture.kind === 'hovering') {
      const over = event.pointerType !== 'touch' && targetOf(event).kind === 'page';
      const at = over ? context.view.toPage(event.clientX, event.clientY) : null;
      now.value = at ? { kind: 'hovering', at } : IDLE;
      return;
    }
    if (gesture.pointer !== event.pointerId) return;
    const to = context.view.toPage(event.clientX, event.clientY, Infinity);
    if (!to) return;
    if (gesture.kind === 'drawing') {
      // On another page than it began the pointer only says "to the edge".
      if (to.page !== gesture.page) return;
      now.value = { ...gesture, box: [gesture.box[0], gesture.box[1], to.x, to.y] };
      return;
    }
    const { target, from } = gesture;
    if (gesture.kind === 'pressed') {
      const far = Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) >= FAR;
      // A line is taken hold of at once: it is moved by less than a click's slip.
      if (!far && target.kind !== 'line') return;
      if (far) (event.currentTarget as Element).setPointerCapture(event.pointerId);
      now.value =
        target.kind === 'page'
          ? { ...gesture, kind: 'drawing', page: from.at.page, box: [from.at.x, from.at.y, to.x, to.y] }
          : { ...gesture, kind: 'dragging' };
      if (target.kind === 'line')
        editor.selection.value = { kind: 'line', system: target.system, line: target.line };
      else if (target.kind !== 'page') editor.selection.value = { kind: 'system', system: target.system };
    }
    const command = to.page === from.at.page ? dragged(target, from.at, to) : null;
    if (command) editor.show(command);
  };

  const onPointerUp = (event: PointerEvent) => {
    const gesture = now.peek();
    if (gesture.kind === 'idle' || gesture.kind === 'hovering' || gesture.pointer !== event.pointerId) return;
    now.value = IDLE;
    if (gesture.kind === 'dragging') editor.keep();
    else if (gesture.kind === 'drawing') actions.draw(gesture.page, gesture.box);
    else actions.click(gesture.target, gesture.from.at, event.shiftKey);
  };

  return {
    now,
    cancel,
    handlers: {
      onPointerDown,
      onPointerMove,
      onPointerUp,
      onPointerCancel: cancel,
      onPointerLeave: () => {
        if (now.peek().kind === 'hovering') now.value = IDLE;
      },
      onWheel: (event) => {
        if (now.peek().kind !== 'drawing' || event.deltaY === 0) return;
        event.preventDefault();
        event.stopPropagation();
        actions.recount(event.deltaY < 0 ? 1 : -1);
      },
      onDblClick: (event) => {
        // A pointer that was captured gives its click to whoever captured it.
        const target = targetOf({ target: document.elementFromPoint(event.clientX, event.clientY) });
        const at = context.view.toPage(event.clientX, event.clientY);
        if (target.kind === 'bar' && at) actions.split(target.bar, at.x);
      },
    },
  };
}
