import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import { bind, bindingOf, conflictsOf, isCharacterKey, unbind } from './bindings.ts';
import type { Command } from './commands.ts';
import type { HelpSheetProps } from './HelpSheet.tsx';
import { keyLabel, onMac } from './keys.ts';

/** What the player is doing about one command's keys. */
type Doing =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'listening'; readonly command: Command }
  | {
      readonly kind: 'taken';
      readonly command: Command;
      readonly key: string;
      readonly by: readonly Command[];
    };

type Props = Pick<HelpSheetProps, 'commands' | 'choices' | 'change'>;

interface RowProps extends Props {
  readonly command: Command;
  readonly listening: boolean;
  readonly listen: () => void;
}

function KeyRow({ command, commands, choices, change, listening, listen }: RowProps) {
  const own = choices.keys[command.id];
  const keys = own ?? command.keys;
  const name = t(command.label);
  const without = (key: string) => () =>
    change({
      keys: bind(
        command,
        keys.filter((each) => each !== key),
        commands,
        choices,
      ),
    });
  return (
    <div class="key-row">
      <span>{name}</span>
      <span class="key-chips">
        {keys.map((key) => (
          <button
            key={key}
            class="key-chip"
            data-asleep={!choices.singleLetters && isCharacterKey(key)}
            aria-label={t('keys_remove', keyLabel(key), name)}
            onClick={without(key)}
          >
            <kbd>{keyLabel(key)}</kbd> <span aria-hidden="true">×</span>
          </button>
        ))}
        <button
          class="key-chip"
          aria-label={t('keys_add_name', name)}
          aria-pressed={listening}
          onClick={listen}
        >
          {t(listening ? 'keys_press' : 'keys_add')}
        </button>
        {own && (
          <button
            class="plain"
            aria-label={t('keys_reset_name', name)}
            onClick={() => change({ keys: unbind(command, choices) })}
          >
            {t('keys_reset')}
          </button>
        )}
      </span>
    </div>
  );
}

/** Every key of every command, to add, take away or reset; and single letters on or off. */
export function KeySettings({ commands, choices, change }: Props) {
  const doing = useSignal<Doing>({ kind: 'nothing' });
  const give = (command: Command, key: string) => {
    const keys = choices.keys[command.id] ?? command.keys;
    change({ keys: bind(command, [...new Set([...keys, key])], commands, choices) });
    doing.value = { kind: 'nothing' };
  };
  const now = doing.value;
  useEffect(() => {
    if (now.kind !== 'listening') return;
    const { command } = now;
    const heard = (event: KeyboardEvent) => {
      const key = bindingOf(event, onMac());
      // Tab must always lead on, or the keyboard would be caught here.
      if (key === null || event.code === 'Tab') return;
      event.preventDefault();
      event.stopImmediatePropagation();
      const by = conflictsOf(command, key, commands, { ...choices, singleLetters: true });
      if (by.length > 0) doing.value = { kind: 'taken', command, key, by };
      else give(command, key);
    };
    window.addEventListener('keydown', heard, { capture: true });
    return () => window.removeEventListener('keydown', heard, { capture: true });
  }, [now, choices]);
  return (
    <div class="key-settings">
      <label class="key-letters">
        <input
          type="checkbox"
          checked={choices.singleLetters}
          onChange={(event) => change({ singleLetters: event.currentTarget.checked })}
        />
        <span>{t('keys_single_letters')}</span>
      </label>
      {commands.map((command) => (
        <div key={command.id}>
          <KeyRow
            command={command}
            commands={commands}
            choices={choices}
            change={change}
            listening={now.kind === 'listening' && now.command === command}
            listen={() =>
              (doing.value =
                now.kind === 'listening' && now.command === command
                  ? { kind: 'nothing' }
                  : { kind: 'listening', command })
            }
          />
          {now.kind === 'taken' && now.command === command && (
            <p class="warning" role="alert">
              {t('keys_taken', keyLabel(now.key), now.by.map((other) => t(other.label)).join(', '))}{' '}
              <button onClick={() => give(command, now.key)}>{t('keys_take')}</button>{' '}
              <button onClick={() => (doing.value = { kind: 'nothing' })}>{t('keys_leave')}</button>
            </p>
          )}
        </div>
      ))}
      <button onClick={() => change({ keys: {} })}>{t('keys_reset_all')}</button>
    </div>
  );
}
