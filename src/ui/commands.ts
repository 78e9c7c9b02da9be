import type { Judge } from '../core/log/events.ts';
import type { MessageKey } from '../host/i18n.ts';

/**
 * One row of the command table. The table drives keys, buttons, tooltips and the help sheet.
 * Keys are written as KeyboardEvent.code with modifiers in front: 'Space', 'ArrowRight', 'Shift+ArrowLeft',
 * 'KeyS', 'Mod+KeyZ' (Mod is Ctrl, or Command on a Mac).
 */
export interface Command {
  readonly id: string;
  readonly label: MessageKey;
  readonly group: 'drill' | 'marks' | 'view' | 'general';
  readonly keys: readonly string[];
}

export type Source = Extract<Judge, 'key' | 'pedal' | 'touch'>;
export type Handlers = Readonly<Partial<Record<string, (source: Source) => void>>>;
