import { effect, type ReadonlySignal } from '@preact/signals';

/** Sets the theme on the document, following the system while the player has chosen none. */
export function applyTheme(settings: ReadonlySignal<{ readonly theme: 'auto' | 'day' | 'stage' }>): void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const apply = () => {
    const { theme } = settings.value;
    document.documentElement.dataset['theme'] = theme === 'auto' ? (dark.matches ? 'stage' : 'day') : theme;
  };
  effect(apply);
  dark.addEventListener('change', apply);
}
