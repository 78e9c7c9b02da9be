/** Where a chart stands: the pure fold of its log. */
import { follow, markPoint } from './branch.ts';
import { takeDone, takePlan, translate } from './carry.ts';
import { finishStep, moveTo, sameStep, streakOf } from './climb.ts';
import type { Plan, Span } from '../chart/types.ts';
import type { ChartKey, EventBase, EventId, JoinedBody, LogEvent, PassBody } from './events.ts';
import { newInner, type Inner } from './inner.ts';
import { compareSittings, survey, type Survey } from './order.ts';
import {
  broken,
  clean,
  cool,
  copyOf,
  enter,
  leave,
  pausedAt,
  slip,
  tightOf,
  vouch,
  type Streak,
} from './rope.ts';
import { addToTally } from './tally.ts';
import { msOf } from './time.ts';
import { viewOf, type Folded } from './view.ts';

/** Goes up whenever folding the same events may give another state: kept snapshots are then rebuilt. */
export const FOLD_VERSION = 3;

/** Other saves of the marks that are kept on offer; beyond this the oldest is only in the log. */
const FORKS = 50;

type Pass = EventBase & PassBody;
type Plans = ReadonlyMap<EventId, Plan>;
const NO_PLANS: Plans = new Map();
const NOTHING: ReadonlySet<EventId> = new Set();

/** The span of a pass in the places of the plan in force; null where that music is not in it. */
function spanNow(f: Inner, pass: Pass, plans: Plans): Span | null {
  if (!f.plan) return null;
  if (pass.plan === f.plan.event) return pass;
  const older = plans.get(pass.plan);
  return older ? translate(older, f.plan.plan, pass) : null;
}

/** The rope as a pass of this sitting finds it; times in ms. */
function ready(streak: Streak, pass: Pass, start: number, end: number): void {
  enter(streak, pass.sitting, start);
  streak.touched = end;
  streak.sitting = pass.sitting;
}

function passed(f: Inner, pass: Pass, plans: Plans): void {
  const end = msOf(pass.at);
  const start = end - pass.seconds * 1000;
  const idle = f.active === null ? null : (start - f.active) / 1000;
  const counted = pass.kind !== 'trial' && pass.verdict !== 'void';
  if (counted) f.passes++;
  if (f.firstPassAt === null || pass.at < f.firstPassAt) f.firstPassAt = pass.at;
  f.active = end;
  if (f.live) ready(f.live, pass, start, end);
  if (pass.kind === 'trial') return;

  const span = spanNow(f, pass, plans);
  if (!span || !f.plan) return;
  if (!f.live || !sameStep(f.live, span, pass.bpm)) {
    // Drilled elsewhere (another branch, a verdict taken back later): the ladder follows what was played.
    if (pass.kind !== 'drill' || pass.verdict === 'void') return;
    moveTo(f, { from: span.from, to: span.to }, pass.bpm, 'chosen');
    if (!f.live) return;
    ready(f.live, pass, start, end);
  }
  judge(f, f.plan.plan, span === pass ? pass : { ...pass, from: span.from, to: span.to }, idle);
}

function judge(f: Inner, plan: Plan, pass: Pass, idle: number | null): void {
  const live = f.live!;
  let { verdict } = pass;
  if (verdict === 'void') {
    if (broken(live, pass.id, pass.brokenBy ?? 'machine')) return;
    verdict = 'slip';
    f.passes++;
  }
  addToTally(live.tally, plan, pass, verdict === 'slip', idle);
  if (verdict === 'slip') slip(live);
  if (verdict !== 'clean') return;
  const places = streakOf(plan, live);
  clean(live, pass.id, pass.by, places);
  if (tightOf(live) >= places) finishStep(f);
}

function joinedWith(f: Inner, { with: other, as, passes, done, seq }: EventBase & JoinedBody): void {
  const before = f.joined.find((each) => each.with === other);
  f.joined = [
    ...f.joined.filter((each) => each.with !== other),
    { with: other, as, passes: Math.max(passes, before?.passes ?? 0) },
  ];
  if (as !== 'stays') return;
  // The other lives on in it: a removal that its writer had not seen does not take both away.
  f.openedSeq = Math.max(f.openedSeq, seq);
  takeDone(f, done);
}

/** What one event that counts does. */
function effect(f: Inner, event: LogEvent, plans: Plans): void {
  switch (event.type) {
    case 'pass':
      passed(f, event, plans);
      break;
    case 'vouched':
      if (!f.live) break;
      enter(f.live, event.sitting, msOf(event.at));
      vouch(f.live, event.passes, event.verdict);
      finishStep(f);
      break;
    case 'step': {
      const older = event.plan === f.plan?.event ? undefined : plans.get(event.plan);
      const span = older && f.plan ? translate(older, f.plan.plan, event) : event;
      if (span) moveTo(f, { from: span.from, to: span.to }, event.bpm, event.why);
      break;
    }
    case 'tempo':
      if (f.live) moveTo(f, { from: f.live.from, to: f.live.to }, event.bpm, event.why);
      break;
    case 'plan':
      takePlan(f, event.id, event.plan);
      break;
    case 'marks': {
      const shown = f.marks?.event;
      const heads = shown !== undefined && shown !== event.parent ? [...f.forks, shown] : f.forks;
      f.forks = heads.filter((head) => head !== event.parent).slice(-FORKS);
      f.marks = { event: event.id, marks: event.marks };
      break;
    }
    case 'opened':
      f.openedSeq = Math.max(f.openedSeq, event.seq);
      if (f.addedAt === null || event.at < f.addedAt) f.addedAt = event.at;
      f.document ??= event.document;
      if (f.name === '') f.name = event.name;
      break;
    case 'named':
      f.name = event.name;
      break;
    case 'removed':
      f.removedSeq = Math.max(f.removedSeq, event.seq);
      break;
    case 'noted':
      f.words = event.words;
      break;
    case 'archived':
      f.archived = event.away;
      break;
    case 'listed': {
      const { set, rank } = event;
      const others = f.sets.filter((each) => each.set !== set);
      f.sets = rank === null ? others : [...others, { set, rank }];
      break;
    }
    case 'carried':
      f.carried = { of: event.of, what: event.what };
      break;
    case 'joined':
      joinedWith(f, event);
      break;
    case 'undone':
      break;
  }
}

/** Events that are practice; only these can be taken back by a key. */
const isPractice = (event: LogEvent): event is LogEvent & { type: 'pass' | 'vouched' | 'step' | 'tempo' } =>
  event.type === 'pass' || event.type === 'vouched' || event.type === 'step' || event.type === 'tempo';

function apply(f: Inner, event: LogEvent, counts: boolean, plans: Plans): void {
  if (f.last?.sitting !== event.sitting) {
    markPoint(f);
    f.lastLow = event.seq;
  } else if (event.seq < f.lastLow) f.lastLow = event.seq;
  follow(f, event, counts && isPractice(event));
  if (counts) effect(f, event, plans);
  // The event itself for now, since a million copies take their time; see `remember`.
  f.last = event;
  if (event.seq > f.highest) f.highest = event.seq;
}

/** Notes which events were the last: of all, of those that count the last pass and the last practice. */
function remember(f: Inner, ordered: readonly LogEvent[], taken: Survey['taken']): void {
  if (f.last) f.last = { id: f.last.id, seq: f.last.seq, sitting: f.last.sitting, place: f.last.place };
  const last = <E extends LogEvent>(wanted: (event: LogEvent) => event is E): E | undefined =>
    ordered.findLast((event): event is E => wanted(event) && !taken.has(event.id));
  const pass = last((event) => event.type === 'pass');
  if (pass) f.lastPass = { event: pass.id, at: pass.at, kind: pass.kind };
  const practice = last(isPractice);
  if (practice) f.undo = { event: practice.id, type: practice.type };
}

/** A chart of which nothing is known yet. */
export function emptyState(chart: ChartKey): Folded {
  return viewOf(newInner(chart));
}

/**
 * The whole fold, from events of one chart in any order. Throws RangeError on an empty log.
 * Linear; a million events take well under a second.
 */
export function fold(events: readonly LogEvent[]): Folded {
  const { ordered, taken, plans } = survey(events);
  const first = ordered[0];
  if (!first) throw new RangeError('an empty log belongs to no chart');
  const f = newInner(first.chart);
  for (const event of ordered) apply(f, event, taken.size === 0 || !taken.has(event.id), plans);
  remember(f, ordered, taken);
  return viewOf(f);
}

/**
 * Whether `step` may take this event: it is next in log order, takes nothing back and was played under
 * the plan in force. Otherwise the log has to be folded anew.
 */
export function follows(state: Folded, event: LogEvent): boolean {
  const { last, lastLow, highest, plan } = state.inner;
  if (event.type === 'undone') return false;
  if ((event.type === 'pass' || event.type === 'step') && event.plan !== plan?.event) return false;
  if (!last) return true;
  if (event.seq <= highest) return false;
  if (event.sitting === last.sitting) return event.place > last.place;
  return event.place === 0 && compareSittings(lastLow, last.sitting, event.seq, event.sitting) < 0;
}

/** One more event, for which `follows` holds. Returns new; does not mutate. Its cost does not grow with the log. */
export function step(state: Folded, event: LogEvent): Folded {
  const { inner } = state;
  const f = { ...inner, live: inner.live && copyOf(inner.live) };
  apply(f, event, true, NO_PLANS);
  remember(f, [event], NOTHING);
  return viewOf(f);
}

/** The state as it is at a time (ISO, UTC): after ten minutes' pause or a night the kept knots are loose. */
export function at(state: Folded, now: string): Folded {
  const { live } = state.inner;
  if (!live || !pausedAt(live, Date.parse(now))) return state;
  const cooled = copyOf(live);
  cool(cooled);
  return viewOf({ ...state.inner, live: cooled });
}

/** The state as a new sitting finds it: knots nobody ever vouched for are dropped. */
export function inNewSitting(state: Folded): Folded {
  if (!state.inner.live) return state;
  const live = copyOf(state.inner.live);
  leave(live);
  return viewOf({ ...state.inner, live });
}

/** From what `inner` was kept as, by the same fold version. */
export const resume: (inner: Inner) => Folded = viewOf;

export type { Folded, Inner };
