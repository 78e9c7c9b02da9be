import { effect, type ReadonlySignal } from '@preact/signals';
import type { Settings } from '../store/types.ts';

/** Sets the theme on the document, following the system while the player has chosen none. */
export function applyTheme(settings: ReadonlySignal<Settings>): void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const apply = () => {
    const { theme } = settings.value;
    document.documentElement.dataset['theme'] = theme === 'auto' ? (dark.matches ? 'stage' : 'day') : theme;
  };
  effect(apply);
  dark.addEventListener('change', apply);
}
