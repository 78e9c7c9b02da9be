/** The shape of an event, checked where it comes from storage or from a file. */
import * as v from 'valibot';
import {
  bpmSchema as bpm,
  marksSchema,
  planSchema,
  routeSchema,
  unitSchema as unit,
} from '../chart/schema.ts';
import type { LogEvent } from './events.ts';

/** Longer spans, seams running on included, no plan has; a bound keeps every walk over one short. */
const LONGEST_ROUTE = 20_000;

const id = v.pipe(v.string(), v.minLength(1), v.maxLength(200));
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(Number.MAX_SAFE_INTEGER));
const place = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(LONGEST_ROUTE));
const instant = v.pipe(v.string(), v.isoTimestamp(), v.endsWith('Z'));
const hash = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/, 'not a SHA-256 in hex'));
const judge = v.picklist(['key', 'pedal', 'touch', 'midi', 'knock', 'ear', 'nobody']);

const base = {
  v: v.literal(1),
  id,
  chart: id,
  sitting: id,
  place: count,
  seq: count,
  after: v.nullable(id),
  at: instant,
  zone: v.string(),
};
const span = { from: place, to: place };

/** Steps done on one route: its bars, and which spans at which tempo. */
const doneRoute = v.strictObject({
  bars: routeSchema,
  done: v.pipe(
    v.array(
      v.pipe(
        v.strictObject({ ...span, bpm, nth: count }),
        v.check((each) => each.from <= each.to, 'a span ends before it begins'),
      ),
    ),
    v.readonly(),
  ),
});

const anyEvent = v.variant('type', [
  v.strictObject({
    ...base,
    type: v.literal('pass'),
    ...span,
    plan: id,
    bpm,
    unit,
    seconds: v.pipe(v.number(), v.minValue(0), v.maxValue(86_400)),
    kind: v.picklist(['drill', 'trial', 'cold', 'recall']),
    verdict: v.picklist(['clean', 'slip', 'unsure', 'void']),
    by: judge,
    slips: v.pipe(v.array(v.strictObject({ beat: v.pipe(v.number(), v.finite()) })), v.readonly()),
    brokenBy: v.exactOptional(v.picklist(['player', 'machine'])),
  }),
  v.strictObject({
    ...base,
    type: v.literal('vouched'),
    passes: v.pipe(v.array(id), v.readonly()),
    verdict: v.picklist(['clean', 'slip']),
    by: judge,
  }),
  v.strictObject({ ...base, type: v.literal('undone'), event: id }),
  v.strictObject({
    ...base,
    type: v.literal('step'),
    ...span,
    plan: id,
    bpm,
    why: v.picklist(['skip', 'back', 'chosen', 'left-open', 'half', 'repeat']),
  }),
  v.strictObject({ ...base, type: v.literal('tempo'), bpm, why: v.picklist(['chosen', 'slower']) }),
  v.strictObject({ ...base, type: v.literal('plan'), marks: id, plan: planSchema }),
  v.strictObject({ ...base, type: v.literal('marks'), parent: v.nullable(id), marks: marksSchema }),
  v.strictObject({ ...base, type: v.literal('opened'), document: hash, name: v.string() }),
  v.strictObject({ ...base, type: v.literal('named'), name: v.string() }),
  v.strictObject({ ...base, type: v.literal('removed') }),
  v.strictObject({ ...base, type: v.literal('noted'), words: v.string() }),
  v.strictObject({ ...base, type: v.literal('archived'), away: v.boolean() }),
  v.strictObject({ ...base, type: v.literal('listed'), set: id, rank: v.nullable(count) }),
  v.strictObject({ ...base, type: v.literal('carried'), of: id, what: v.picklist(['marks', 'nothing']) }),
  v.strictObject({
    ...base,
    type: v.literal('joined'),
    with: id,
    as: v.picklist(['stays', 'goes', 'apart']),
    passes: count,
    done: v.pipe(v.array(doneRoute), v.readonly()),
  }),
]);

export const eventSchema = v.pipe(
  anyEvent,
  v.check((event) => !('from' in event) || event.from <= event.to, 'a span ends before it begins'),
);

/** Thrown for what is no event; the message is one line that says where. */
export class BadEvent extends Error {
  override readonly name = 'BadEvent';
}

/** An event of the present version from unknown JSON. Throws BadEvent. */
export function parseEvent(value: unknown): LogEvent {
  const result = v.safeParse(eventSchema, value, { abortEarly: true });
  if (result.success) return result.output;
  const [issue] = result.issues;
  const where = v.getDotPath(issue);
  throw new BadEvent(where === null ? issue.message : `${where}: ${issue.message}`);
}
