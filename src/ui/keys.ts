import { t } from '../host/i18n.ts';
import { bindingOf, commandFor, sourceOf, type KeyChoices } from './bindings.ts';
import type { Command, Handlers } from './commands.ts';

export interface KeyOptions {
  readonly commands: readonly Command[];
  /** What can be done now; asked at every key. */
  readonly handlers: () => Handlers;
  /** The player's choices; asked at every key. */
  readonly settings: () => KeyChoices;
  /** Ends the listening. */
  readonly signal: AbortSignal;
}

export const onMac = (): boolean => /Mac|iP(hone|ad)/.test(navigator.platform);

/** Text fields keep every key; other controls keep the keys that work them. */
function keeps(target: EventTarget | null, code: string): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.isContentEditable || target.matches('textarea, select')) return true;
  if (target instanceof HTMLInputElement && !/^(checkbox|radio|range|button|submit|file)$/.test(target.type))
    return true;
  if (target.matches('input')) return /^(Space|(Numpad)?Enter|Arrow|Page|Home|End)/.test(code);
  return target.matches('button, a[href], summary, [role=button]') && /^(Space|(Numpad)?Enter)$/.test(code);
}

/**
 * Turns key presses into commands. A control reached by keyboard keeps the keys that work it; one that was
 * only touched or clicked gives them up, so that a pedal still speaks after a press on the screen. An
 * element that has dealt with a key itself says so by preventDefault. Held keys repeat moves, never verdicts.
 */
export function createKeys({ commands, handlers, settings, signal }: KeyOptions): void {
  const mac = onMac();
  let touched: EventTarget | null = null;
  const pressed = (event: PointerEvent) => {
    touched =
      event.target instanceof Element
        ? event.target.closest('button, a, summary, input, textarea, [role=button]')
        : null;
  };
  const down = (event: KeyboardEvent) => {
    if (event.code === 'Tab') touched = null;
    if (event.defaultPrevented || event.isComposing || document.querySelector('dialog[open]')) return;
    const { target } = event;
    const textField = keeps(target, '');
    if (textField || (target !== touched && keeps(target, event.code))) return;
    const binding = bindingOf(event, mac);
    if (binding === null) return;
    const now = handlers();
    const command = commandFor(binding, commands, settings(), now);
    if (command === null) return;
    event.preventDefault();
    // Firefox presses a focused button when Space goes up, whatever became of it going down.
    if (target === touched && target instanceof HTMLElement && keeps(target, event.code)) target.blur();
    if (event.repeat && command.group === 'drill') return;
    now[command.id]?.(sourceOf(binding));
  };
  window.addEventListener('pointerdown', pressed, { capture: true, signal });
  window.addEventListener('keydown', down, { signal });
}

const glyphs: Readonly<Record<string, string>> = {
  ArrowLeft: '←',
  ArrowRight: '→',
  ArrowUp: '↑',
  ArrowDown: '↓',
  Minus: '−',
  Equal: '=',
  BracketLeft: '[',
  BracketRight: ']',
  Semicolon: ';',
  Quote: "'",
  Backquote: '`',
  Backslash: '\\',
  Comma: ',',
  Period: '.',
  Slash: '/',
};

let layout: ReadonlyMap<string, string> | null = null;

/** Asks the browser what is printed on the keys here; where it does not tell, labels are as on a US board. */
export async function learnLayout(): Promise<void> {
  const keyboard = (navigator as { keyboard?: { getLayoutMap?: () => Promise<ReadonlyMap<string, string>> } })
    .keyboard;
  layout = (await keyboard?.getLayoutMap?.().catch(() => null)) ?? null;
}

function codeLabel(code: string): string {
  const printed = layout?.get(code) ?? glyphs[code];
  if (printed !== undefined) return printed.toUpperCase();
  if (/^Key[A-Z]$|^Digit\d$/.test(code)) return code.slice(-1);
  const named = {
    Space: 'key_space',
    Enter: 'key_enter',
    Escape: 'key_escape',
    PageUp: 'key_page_up',
    PageDown: 'key_page_down',
    Home: 'key_home',
    End: 'key_end',
    Delete: 'key_delete',
    Backspace: 'key_backspace',
    Tab: 'key_tab',
  } as const;
  return code in named ? t(named[code as keyof typeof named]) : code.replace(/^Numpad/, 'Num ');
}

/** A binding as the player reads it: 'Mod+Shift+KeyZ' is "Ctrl + Shift + Z", on a Mac "⌘ + Shift + Z". */
export function keyLabel(binding: string): string {
  const parts = binding.split('+');
  const code = parts.pop() ?? '';
  const names = parts.map((part) =>
    part === 'Mod' ? (onMac() ? '⌘' : t('key_ctrl')) : part === 'Alt' ? t('key_alt') : t('key_shift'),
  );
  return [...names, codeLabel(code)].join(' + ');
}
