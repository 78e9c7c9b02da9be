import * as v from 'valibot';
import { recall, remember } from '../host/tab.ts';
import { onTurn } from '../host/turn.ts';

const NAME = 'tunes';

const lookingSchema = v.strictObject({
  place: v.variant('kind', [
    v.strictObject({ kind: v.literal('all') }),
    v.strictObject({ kind: v.literal('archive') }),
    v.strictObject({ kind: v.literal('set'), set: v.string() }),
  ]),
  search: v.string(),
  /** How far the page was scrolled, px. */
  top: v.number(),
});

/** How the list was looked at: coming back from a chart, it is as it was. */
export type Looking = v.InferOutput<typeof lookingSchema>;

/** As this tab left it; null at its first visit. */
export function lookedAt(): Looking | null {
  const result = v.safeParse(lookingSchema, recall(NAME));
  return result.success ? result.output : null;
}

/** Remembers how the list is looked at whenever the page is left. */
export function rememberLooking(now: () => Omit<Looking, 'top'>): void {
  const keep = () => remember(NAME, { ...now(), top: scrollY } satisfies Looking);
  addEventListener('pagehide', keep, { signal: onTurn });
  onTurn.addEventListener('abort', keep);
}
