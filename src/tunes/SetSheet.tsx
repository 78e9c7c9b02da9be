import { useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import { LONGEST_NAME } from './DetailsSheet.tsx';
import type { TuneSet } from './sets.ts';
import { Sheet } from './Sheet.tsx';

/** Asks for the name of a set: one that is there, or a new one. */
export function SetSheet({
  title,
  first,
  sets,
  ok,
  done,
  close,
}: {
  title: string;
  first: string;
  sets: readonly TuneSet[];
  ok: string;
  done: (name: string) => void;
  close: () => void;
}) {
  const field = useRef<HTMLInputElement>(null);
  const give = (name: string) => {
    close();
    if (name) done(name);
  };
  return (
    <Sheet title={title} close={close}>
      <form
        class="fields"
        onSubmit={(event) => {
          event.preventDefault();
          give(field.current?.value.trim() ?? '');
        }}
      >
        {first === '' && sets.length > 0 && (
          <div class="buttons">
            {sets.map(({ name }) => (
              <button key={name} type="button" class="known-set" onClick={() => give(name)}>
                {name}
              </button>
            ))}
          </div>
        )}
        <label>
          <span>{t(first === '' ? 'tunes_set_new' : 'tunes_set_name')}</span>
          <input ref={field} name="set" defaultValue={first} maxLength={LONGEST_NAME} required />
        </label>
        <div class="buttons">
          <button class="first">{ok}</button>
          <button type="button" onClick={close}>
            {t('tunes_leave')}
          </button>
        </div>
      </form>
    </Sheet>
  );
}
