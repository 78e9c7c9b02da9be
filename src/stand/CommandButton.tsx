import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { t, type MessageKey } from '../host/i18n.ts';
import type { Handlers } from '../ui/commands.ts';

/** Tells the keys of a command, as the player reads them. */
export const KeysShown = createContext<(id: string) => string>(() => '');

export interface CommandButtonProps {
  readonly id: string;
  readonly label: MessageKey;
  readonly handlers: Handlers;
  readonly class?: string;
  readonly pressed?: boolean | undefined;
}

/** A button of the command table: its keys are in its tooltip. */
export function CommandButton({ id, label, handlers, class: look = '', pressed }: CommandButtonProps) {
  const keys = useContext(KeysShown)(id);
  return (
    <button
      class={look}
      data-command={id}
      title={keys}
      aria-pressed={pressed}
      // A press without a pointer comes from the keyboard.
      onClick={(event) => handlers[id]?.(event.detail > 0 ? 'touch' : 'key')}
    >
      {t(label)}
    </button>
  );
}
