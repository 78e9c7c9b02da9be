import { t } from '../host/i18n.ts';
import { BrokenPdf, EmptyPdf, NeedsPassword, NotAPdf, TooSlow } from '../pdf/errors.ts';
import { NoStore, NotKept } from '../store/errors.ts';

/** The chart cannot be put on the stand; `message` is already the line the player reads. */
export class CannotOpen extends Error {}

/** The player stopped it. */
export class Stopped extends Error {}

const said = (error: unknown) => (error instanceof Error ? error.message : String(error));

/** The line that the player reads when a chart named `name` did not open. */
export function openingProblem(error: unknown, name: string): string {
  if (error instanceof CannotOpen) return error.message;
  if (error instanceof NoStore) return t('stand_no_store');
  if (error instanceof NotAPdf) return t('stand_not_pdf', name);
  if (error instanceof EmptyPdf) return t('stand_empty_pdf', name);
  if (error instanceof BrokenPdf) return t('stand_broken_pdf', name);
  if (error instanceof TooSlow) return t('stand_too_slow', name);
  if (error instanceof Stopped) return t('stand_stopped', name);
  if (error instanceof NeedsPassword) return t('stand_password', name);
  return t('stand_failed', said(error));
}

/** The line that the player reads when an event was not kept. */
export function keepingProblem(error: unknown): string {
  return error instanceof NotKept ? t('stand_full') : t('stand_not_kept', said(error));
}
