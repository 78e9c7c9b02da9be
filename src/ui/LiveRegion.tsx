import { signal } from '@preact/signals';

const said = signal({ text: '', count: 0 });

/** Has a screen reader say `text` when it has finished what it is saying; the same text again is said again. */
export function announce(text: string): void {
  said.value = { text, count: said.value.count + 1 };
}

/** The one polite live region of a page. Nothing of it is seen. */
export function LiveRegion() {
  const { text, count } = said.value;
  return (
    <div class="unseen" role="status" aria-live="polite">
      <span key={count}>{text}</span>
    </div>
  );
}
