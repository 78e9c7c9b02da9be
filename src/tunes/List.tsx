import { useSignal } from '@preact/signals';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { t } from '../host/i18n.ts';
import type { Shelf } from './shelf.ts';
import { TuneRow } from './TuneRow.tsx';
import type { View } from './view.ts';
import { rowsIn, type Rows } from './window.ts';

/** Until the first row has been measured. */
const GUESS = { height: 98, rows: { from: 0, to: 20 } };

/** The tunes found, of which only those in view are drawn: thousands stay as quick as twenty. */
export function List({ shelf, view }: { shelf: Shelf; view: View }) {
  const list = useRef<HTMLUListElement>(null);
  const rows = useSignal<Rows>(GUESS.rows);
  /** The row that has the focus is drawn wherever it is, or the focus would be lost. */
  const focused = useSignal(-1);
  const wanted = useRef(-1);
  const found = view.found.value;
  const count = found.length;

  useLayoutEffect(() => {
    const left = new AbortController();
    const look = () => {
      if (!list.current) return;
      const height = list.current.querySelector<HTMLElement>('li.tune')?.offsetHeight ?? GUESS.height;
      const next = rowsIn(count, height, -list.current.getBoundingClientRect().top, innerHeight);
      if (next.from !== rows.value.from || next.to !== rows.value.to) rows.value = next;
    };
    look();
    addEventListener('scroll', look, { passive: true, signal: left.signal });
    addEventListener('resize', look, { signal: left.signal });
    return () => left.abort();
  }, [count]);
  // Another search or list: what had the focus is another row.
  useEffect(() => {
    focused.value = -1;
  }, [found]);

  const linkOf = (index: number) =>
    list.current?.querySelector<HTMLElement>(`li[data-index="${index}"] :is(a, input)`);
  useLayoutEffect(() => {
    if (wanted.current < 0) return;
    linkOf(wanted.current)?.focus();
    wanted.current = -1;
  });
  const keyed = (event: KeyboardEvent) => {
    const at = focused.value;
    if (at < 0 || event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey) return;
    if (!(event.target instanceof Element) || !event.target.matches('.tune-body, .tune-body input')) return;
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: count - 1 }[event.code];
    if (to === undefined) return;
    event.preventDefault();
    const next = Math.min(count - 1, Math.max(0, to));
    if (next === at) return;
    wanted.current = next;
    focused.value = next;
  };
  const entered = (event: FocusEvent) => {
    const row = event.target instanceof Element ? event.target.closest<HTMLElement>('li.tune') : null;
    focused.value = Number(row?.dataset['index'] ?? -1);
  };

  const { from, to } = rows.value;
  const drawn = Array.from({ length: Math.max(0, Math.min(to, count) - from) }, (_, i) => from + i);
  const kept = focused.value;
  if (kept >= 0 && kept < count && (kept < from || kept >= to)) {
    if (kept < from) drawn.unshift(kept);
    else drawn.push(kept);
  }
  return (
    <ul
      class="tunes"
      ref={list}
      aria-label={t('tunes_list_name')}
      style={{ '--count': String(count) }}
      data-count={count}
      onKeyDown={keyed}
      onFocusIn={entered}
    >
      {drawn.map((index) => {
        const card = found[index]!;
        return <TuneRow key={card.chart} card={card} index={index} count={count} shelf={shelf} view={view} />;
      })}
    </ul>
  );
}
