import type { StopReason } from '../../core/drill/phase.ts';
import type { Plan } from '../../core/chart/types.ts';
import { t, type MessageKey } from '../../host/i18n.ts';
import type { DrillView, Session } from './session-types.ts';
import { stepName } from './words.ts';

const stopped: Record<StopReason, MessageKey> = {
  suspended: 'drill_stopped_suspended',
  hidden: 'drill_stopped_hidden',
  device: 'drill_stopped_device',
  silent: 'drill_stopped_silent',
  closed: 'drill_stopped_closed',
  elsewhere: 'drill_stopped_elsewhere',
  'not-kept': 'drill_stopped_not_kept',
};

/** What the wall offers: slower, half the span, leave it open, or keep trying. */
export function Wall({ view, session, plan }: { view: DrillView; session: Session; plan: Plan }) {
  const wall = view.wall;
  if (!wall) return null;
  const breaks = wall.breaksAt === null ? undefined : plan.bars[wall.breaksAt];
  return (
    <div class="drill-offer" role="group">
      <p>{breaks ? t('drill_wall_breaks', breaks.number) : t('drill_wall')}</p>
      {wall.slower !== null && (
        <button class="first" data-command="wall-slower" onClick={() => session.choose('slower')}>
          {t('drill_wall_slower', wall.slower)}
        </button>
      )}
      {wall.half && (
        <button data-command="wall-half" onClick={() => session.choose('half')}>
          {t('drill_wall_half', stepName(plan, { ...wall.half, kind: 'chosen' }))}
        </button>
      )}
      <button data-command="wall-leave" onClick={() => session.choose('leave-open')}>
        {t('drill_wall_leave')}
      </button>
      <button class="plain" data-command="wall-go-on" onClick={() => session.choose('go-on')}>
        {t('drill_wall_go_on')}
      </button>
    </div>
  );
}

/** The one line that says what to do while nothing sounds. */
export function Standing({ view }: { view: DrillView }) {
  if (view.phase === 'stopped' && view.stopped) return <p class="warning">{t(stopped[view.stopped])}</p>;
  const key: MessageKey | null =
    view.phase === 'paused'
      ? 'drill_paused'
      : view.phase === 'rest'
        ? 'drill_rest'
        : view.phase === 'finished'
          ? 'drill_finished'
          : view.phase === 'idle'
            ? view.cold
              ? 'drill_cold'
              : 'drill_ready'
            : null;
  return key ? <p class="drill-next">{t(key)}</p> : null;
}
