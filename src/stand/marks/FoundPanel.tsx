import { doubtsOf } from '../../core/chart/found.ts';
import type { Marks } from '../../core/chart/types.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Handlers } from '../../ui/commands.ts';
import { CommandButton } from '../CommandButton.tsx';

interface FoundPanelProps {
  readonly marks: Marks;
  readonly handlers: Handlers;
}

/** What the page itself left in doubt: asked about before anything else, one key from right. */
export function FoundPanel({ marks, handlers }: FoundPanelProps) {
  const doubts = doubtsOf(marks);
  if (doubts.length === 0) return null;
  return (
    <section class="marks-doubt" aria-label={t('marks_found_title')} data-doubts={doubts.length}>
      <h2>{plural('marks_found_doubts', doubts.length)}</h2>
      <p>{t('marks_found_ask')}</p>
      <div class="marks-found">
        <CommandButton id="marks-next-doubt" label="marks_cmd_next_doubt" handlers={handlers} />
        <CommandButton id="marks-vouch" label="marks_cmd_vouch" handlers={handlers} />
      </div>
    </section>
  );
}
