import { getLanguage, t } from './i18n.ts';
import type { Progress } from './messages.ts';

/** How far it is, as the player reads it. */
export function fetchingText({ name, host, loaded, total }: Progress): string {
  if (total !== null && total > 0)
    return t('tunes_fetching_share', name, host, Math.min(100, Math.floor((100 * loaded) / total)));
  if (loaded === 0) return t('tunes_fetching_from', name, host);
  const size = {
    style: 'unit',
    unit: 'megabyte',
    minimumFractionDigits: 1,
    maximumFractionDigits: 1,
  } as const;
  return t(
    'tunes_fetching_size',
    name,
    host,
    new Intl.NumberFormat(getLanguage(), size).format(loaded / 1e6),
  );
}
