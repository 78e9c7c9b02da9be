import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { t, type MessageKey } from '../host/i18n.ts';
import { keysOf, type KeptKeys, type KeyChoices } from './bindings.ts';
import type { Command } from './commands.ts';
import { keyLabel } from './keys.ts';
import { KeySettings } from './KeySettings.tsx';
import './help.css';

export interface HelpSheetProps {
  /** What the sheet lists; empty where a page has no keys of its own. */
  readonly commands: readonly Command[];
  readonly choices: KeyChoices;
  readonly change: (change: { keys?: KeptKeys; singleLetters?: boolean }) => void;
  readonly close: () => void;
}

const groups: readonly (readonly [Command['group'], MessageKey])[] = [
  ['drill', 'help_group_drill'],
  ['marks', 'help_group_marks'],
  ['view', 'help_group_view'],
  ['general', 'help_group_general'],
];

function KeyList({ commands, choices }: Pick<HelpSheetProps, 'commands' | 'choices'>) {
  return (
    <dl class="help-keys">
      {commands.map((command) => (
        <div key={command.id}>
          <dt>{t(command.label)}</dt>
          <dd>
            {keysOf(command, choices).map((key) => (
              <kbd key={key}>{keyLabel(key)}</kbd>
            ))}
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** How it goes, every command with its keys, and the caution about strain and volume. */
export function HelpSheet({ commands, choices, change, close }: HelpSheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const changing = useSignal(false);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog class="sheet help-sheet" ref={dialog} onClose={close} aria-label={t('help_title')}>
      <header>
        <h2>{t(changing.value ? 'help_change_keys' : 'help_title')}</h2>
        <form method="dialog">
          <button>{t('help_close')}</button>
        </form>
      </header>
      {changing.value ? (
        <KeySettings commands={commands} choices={choices} change={change} />
      ) : (
        <>
          <p>{t('help_how')}</p>
          <p>{t('help_honest')}</p>
          <h3>{t('help_caution_title')}</h3>
          <p>{t('help_caution_strain')}</p>
          <p>{t('help_caution_volume')}</p>
          {groups.map(([group, title]) => {
            const own = commands.filter((command) => command.group === group);
            return (
              own.length > 0 && (
                <section key={group}>
                  <h3>{t(title)}</h3>
                  <KeyList commands={own} choices={choices} />
                </section>
              )
            );
          })}
        </>
      )}
      {commands.length > 0 && (
        <button onClick={() => (changing.value = !changing.value)}>
          {t(changing.value ? 'help_back' : 'help_change_keys')}
        </button>
      )}
    </dialog>
  );
}
