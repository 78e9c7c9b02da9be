import type { Command, Handlers, Source } from './commands.ts';

/** The player's own choices about keys, as the settings hold them. */
export interface KeyChoices {
  /** Changed bindings by command id; an empty list means none. */
  readonly keys: Readonly<Record<string, readonly string[]>>;
  /** Off: keys that type a character do nothing by themselves (they disturb speech input). */
  readonly singleLetters: boolean;
}

/** The slice of KeyboardEvent that a binding is made of. */
export interface KeyPress {
  readonly code: string;
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

const modifierCodes = /^(Control|Shift|Alt|Meta|OS)(Left|Right)?$/;
const characterCodes =
  /^(Shift\+)?(Key[A-Z]|Digit\d|Minus|Equal|Bracket(Left|Right)|Backslash|IntlBackslash|Semicolon|Quote|Backquote|Comma|Period|Slash)$/;
/** What page-turner pedals send. Space is left to the keyboard, though some pedals send it too. */
const pedalCodes = /^(PageUp|PageDown|Arrow(Left|Right|Up|Down))$/;

/**
 * The binding that a key press makes: 'Space', 'Shift+ArrowLeft', 'Mod+Shift+KeyZ'. Null for a modifier
 * alone and for what no binding can hold (Ctrl on a Mac, the system key elsewhere).
 */
export function bindingOf(press: KeyPress, mac: boolean): string | null {
  // Some pedals and on-screen keyboards send no code: their key names are the same where it matters.
  const named = press.code || (press.key === ' ' ? 'Space' : press.key);
  // Both Enter keys are one to a player.
  const code = named === 'NumpadEnter' ? 'Enter' : named;
  if (!code || code === 'Unidentified' || modifierCodes.test(code)) return null;
  if (mac ? press.ctrlKey : press.metaKey) return null;
  const mod = mac ? press.metaKey : press.ctrlKey;
  return (mod ? 'Mod+' : '') + (press.altKey ? 'Alt+' : '') + (press.shiftKey ? 'Shift+' : '') + code;
}

/** A key that would type a letter, a digit or a sign. */
export const isCharacterKey = (binding: string): boolean => characterCodes.test(binding);

/** The keys that a command answers to, the player's choices applied. */
export function keysOf(command: Command, choices: KeyChoices): readonly string[] {
  const keys = choices.keys[command.id] ?? command.keys;
  return choices.singleLetters ? keys : keys.filter((key) => !isCharacterKey(key));
}

/** Who is speaking: a pedal cannot be told from the keys it sends, so those keys count as one. */
export function sourceOf(binding: string): Source {
  return pedalCodes.test(binding) ? 'pedal' : 'key';
}

/** The first command with that key that somebody handles now. */
export function commandFor(
  binding: string,
  commands: readonly Command[],
  choices: KeyChoices,
  handlers: Handlers,
): Command | null {
  return (
    commands.find((each) => handlers[each.id] !== undefined && keysOf(each, choices).includes(binding)) ??
    null
  );
}

const everywhere = (group: Command['group']) => group === 'view' || group === 'general';

/** Drilling and marking never run at once, so they may share keys; everything else may not. */
function meet(a: Command, b: Command): boolean {
  return a.id !== b.id && (a.group === b.group || everywhere(a.group) || everywhere(b.group));
}

/** The other commands that would answer to `binding` together with `command`. */
export function conflictsOf(
  command: Command,
  binding: string,
  commands: readonly Command[],
  choices: KeyChoices,
): Command[] {
  return commands.filter((other) => meet(command, other) && keysOf(other, choices).includes(binding));
}

/** The `keys` of the settings, as they are kept. */
export type KeptKeys = Record<string, string[]>;

/** Gives these keys to `command` alone: commands that they would meet lose them. Returns new keys to keep. */
export function bind(
  command: Command,
  bindings: readonly string[],
  commands: readonly Command[],
  choices: KeyChoices,
): KeptKeys {
  const all = { keys: choices.keys, singleLetters: true };
  const keys: KeptKeys = kept(choices);
  for (const binding of bindings)
    for (const other of conflictsOf(command, binding, commands, all))
      keys[other.id] = (keys[other.id] ?? [...other.keys]).filter((key) => key !== binding);
  return { ...keys, [command.id]: [...bindings] };
}

/** Forgets the player's own keys for one command. Returns new keys to keep. */
export function unbind(command: Command, choices: KeyChoices): KeptKeys {
  return Object.fromEntries(Object.entries(kept(choices)).filter(([id]) => id !== command.id));
}

function kept(choices: KeyChoices): KeptKeys {
  return Object.fromEntries(Object.entries(choices.keys).map(([id, keys]) => [id, [...keys]]));
}
