import { useSignal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import type { ChartState } from '../core/log/state.ts';
import { t } from '../host/i18n.ts';
import { pageUrl } from '../host/pages.ts';
import type { Settings } from '../store/types.ts';
import { keysOf } from '../ui/bindings.ts';
import type { Handlers } from '../ui/commands.ts';
import { HelpSheet } from '../ui/HelpSheet.tsx';
import { keyLabel } from '../ui/keys.ts';
import { Rope } from '../ui/rope/Rope.tsx';
import type { OpenChart } from './chart.ts';
import { CommandButton, KeysShown } from './CommandButton.tsx';
import { commands } from './commands.ts';
import type { Mode } from './mode.ts';
import type { Opening } from './opening.ts';
import { PasswordSheet } from './PasswordSheet.tsx';
import { SettingsSheet } from './SettingsSheet.tsx';

export type Sheet = 'help' | 'settings' | null;

/** The pages are being read for their bars. */
export interface Reading {
  /** How far it is. */
  readonly text: string;
  stop(): void;
}

export interface StandProps {
  /** Null until it has been read or kept. */
  readonly chart: ReadonlySignal<OpenChart | null>;
  readonly mode: ReadonlySignal<{ readonly name: 'marks' | 'drill'; readonly mode: Mode } | null>;
  readonly handlers: Handlers;
  readonly settings: Signal<Settings>;
  readonly change: (change: Partial<Settings>) => void;
  readonly sheet: Signal<Sheet>;
  readonly line: Signal<string | null>;
  readonly opening: Opening;
  /** What the chart is called, as far as is known. */
  readonly name: () => string;
  /** Null while no bars are looked for. */
  readonly reading: ReadonlySignal<Reading | null>;
  /** The element that the pages go into. */
  readonly page: RefObject<HTMLElement | null>;
}

const upright = matchMedia('(max-aspect-ratio: 1/1)');

/** The page, the rope, the rail; and the sheets that lie over them when asked for. */
export function Stand(props: StandProps) {
  const { chart, mode, handlers, settings, change, sheet, line, opening, name, reading, page } = props;
  const tall = useSignal(upright.matches);
  useEffect(() => {
    const turned = () => (tall.value = upright.matches);
    upright.addEventListener('change', turned);
    return () => upright.removeEventListener('change', turned);
  }, []);
  const shown = (id: string) => {
    const command = commands.find((each) => each.id === id);
    return command ? keysOf(command, settings.value).map(keyLabel).join(', ') : '';
  };
  const state = chart.value?.state.value;
  const now = mode.value;
  return (
    <KeysShown.Provider value={shown}>
      <main class="stand-page" aria-label={t('stand_page_name')} ref={page}>
        <Opened opening={opening} />
      </main>
      <div class="stand-rope">
        {now?.name === 'drill' && state && <Streak state={state} direction={tall.value ? 'right' : 'up'} />}
      </div>
      <aside class="stand-rail" aria-label={t('stand_rail_name')}>
        <nav class="stand-top">
          {now?.name === 'drill' && <h1 class="stand-name">{state?.name}</h1>}
          <a href={pageUrl('tunes')}>{t('stand_tunes')}</a>
          {now?.name === 'drill' && (
            <CommandButton id="marks" label="stand_marks" handlers={handlers} class="plain" />
          )}
          <CommandButton id="settings" label="stand_settings" handlers={handlers} class="plain" />
          <CommandButton id="help" label="stand_help" handlers={handlers} class="plain" />
        </nav>
        {chart.value?.writing.value === false && <p class="warning">{t('stand_elsewhere')}</p>}
        <Finding reading={reading} />
        {now && <now.mode.Rail />}
        {now?.name === 'drill' && !settings.value.cautionShown && (
          <Caution close={() => change({ cautionShown: true })} />
        )}
      </aside>
      {line.value !== null && (
        <p class="warning stand-line" role="alert">
          {line.value} <button onClick={() => (line.value = null)}>{t('stand_close')}</button>
        </p>
      )}
      <Sheets settings={settings} change={change} sheet={sheet} />
      <PasswordSheet asking={opening.asking} name={name} />
    </KeysShown.Provider>
  );
}

function Opened({ opening }: { opening: Opening }) {
  const text = opening.text.value;
  const going = text !== null;
  useEffect(() => {
    if (!going) return;
    const done = new AbortController();
    const stop = ({ key }: KeyboardEvent) => {
      // A sheet over the page has Escape for itself.
      if (key === 'Escape' && !document.querySelector('dialog[open]')) opening.stop();
    };
    window.addEventListener('keydown', stop, { signal: done.signal });
    return () => done.abort();
  }, [going]);
  if (!going) return null;
  return (
    <div class="stand-opening">
      <p role="status">{text}</p>
      <button class="plain" data-command="stop-opening" onClick={() => opening.stop()}>
        {t('stand_opening_stop')}
      </button>
    </div>
  );
}

function Finding({ reading }: Pick<StandProps, 'reading'>) {
  const now = reading.value;
  if (!now) return null;
  return (
    <div class="stand-finding">
      <p role="status">{now.text}</p>
      <button data-command="stop-finding" onClick={() => now.stop()}>
        {t('stand_finding_stop')}
      </button>
    </div>
  );
}

function Streak({ state, direction }: { state: ChartState; direction: 'right' | 'up' }) {
  const tight = state.knots.filter((knot) => knot.tie === 'tight').length;
  const loose = state.knots.filter((knot) => knot.tie === 'loose').length;
  const places = state.step?.streak ?? state.plan?.plan.numbers.streak ?? 10;
  const name = t('drill_rope_name', tight, places, loose);
  return <Rope places={places} knots={state.knots} direction={direction} name={name} />;
}

function Sheets({ settings, change, sheet }: Pick<StandProps, 'settings' | 'change' | 'sheet'>) {
  const close = () => (sheet.value = null);
  if (sheet.value === 'help')
    return <HelpSheet commands={commands} choices={settings.value} change={change} close={close} />;
  if (sheet.value === 'settings') return <SettingsSheet settings={settings} change={change} close={close} />;
  return null;
}

/**
 * The usual caution about strain and volume, once; it stands in the rail, under what is pressed, so that nobody
 * has to stop for it.
 */
function Caution({ close }: { close: () => void }) {
  const note = useRef<HTMLElement>(null);
  // In a low window the rail was scrolled to its foot to reach the button: what is played stands at its head.
  useLayoutEffect(() => {
    const rail = note.current?.parentElement;
    return () => rail?.scrollTo(0, 0);
  }, []);
  return (
    <aside class="caution" aria-label={t('drill_caution_title')} ref={note}>
      <p>{t('drill_caution')}</p>
      <button data-command="caution-ok" onClick={close}>
        {t('drill_caution_ok')}
      </button>
    </aside>
  );
}
