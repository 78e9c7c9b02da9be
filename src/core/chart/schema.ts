/**
 * Schemas for what comes from storage or from a file: marks and plans. Objects are strict, because
 * an attribute that this release does not know must be refused, never silently dropped on merge.
 */
import * as v from 'valibot';
import { MAX_CHORUSES, MAX_REST, MAX_STRETCHES, MAX_TIMES } from './conventions.ts';
import type { Bar, Marks, Numbers, Plan } from './types.ts';

const fraction = v.pipe(v.number(), v.minValue(0), v.maxValue(1));
const count = v.pipe(v.number(), v.integer(), v.minValue(0));
const counted = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(1000));
const beats = v.pipe(v.number(), v.finite(), v.gtValue(0));
export const bpmSchema = v.pipe(v.number(), v.minValue(1), v.maxValue(1000));
const id = v.pipe(v.string(), v.minLength(1));
const list = <T extends v.GenericSchema>(of: T) => v.pipe(v.array(of), v.readonly());

const meterSchema = v.strictObject({
  beats: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(64)),
  value: v.picklist([1, 2, 4, 8, 16]),
});

export const unitSchema = v.picklist([
  'sixteenth',
  'eighth',
  'dotted-eighth',
  'quarter',
  'dotted-quarter',
  'half',
  'dotted-half',
]);

const yes = v.exactOptional(v.literal(true));

/** What version 1 can say of a bar. Never changed: what was kept under it must stay readable for ever. */
const bar1 = v.strictObject({
  id,
  x0: fraction,
  x1: fraction,
  meter: v.exactOptional(meterSchema),
  unit: v.exactOptional(unitSchema),
  section: v.exactOptional(v.string()),
  pickup: v.exactOptional(beats),
  leadIn: v.exactOptional(beats),
  silent: yes,
  tied: yes,
  repeatStart: yes,
  repeatEnd: v.exactOptional(v.pipe(v.number(), v.integer(), v.minValue(2), v.maxValue(MAX_TIMES))),
  ending: v.exactOptional(list(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(99)))),
  continues: yes,
  as: v.exactOptional(id),
  was: v.exactOptional(list(id)),
});

/** Version 2 adds the jumps, the multi-bar rest, when a section sounds, and what was found. */
const bar2 = v.strictObject({
  ...bar1.entries,
  segno: yes,
  coda: yes,
  toCoda: yes,
  fine: yes,
  jump: v.exactOptional(v.picklist(['dc', 'dc-al-fine', 'dc-al-coda', 'ds', 'ds-al-fine', 'ds-al-coda'])),
  restBars: v.exactOptional(v.pipe(v.number(), v.integer(), v.minValue(2), v.maxValue(MAX_REST))),
  when: v.exactOptional(v.picklist(['first-chorus', 'last-chorus', 'never'])),
  found: v.exactOptional(fraction),
});

const conventionsSchema = v.strictObject({
  repeatsAfterJump: v.exactOptional(v.boolean()),
  endingAfterJump: v.exactOptional(v.picklist(['last', 'first'])),
  jumpAfterRepeats: v.exactOptional(v.boolean()),
  fineAtOnce: v.exactOptional(v.boolean()),
  codaAtOnce: v.exactOptional(v.boolean()),
  codaLastChorus: v.exactOptional(v.boolean()),
});

/** How much a line leans: of a version 6. */
const lean6 = { lean: v.exactOptional(v.pipe(v.number(), v.minValue(-1), v.maxValue(1))) } as const;

function systemsOf(bar: v.GenericSchema<unknown, Bar>, mayLean = false) {
  const wide = v.pipe(
    bar,
    v.check(({ x0, x1 }) => x0 < x1, 'a bar has no width'),
  );
  const systemSchema = v.pipe(
    v.strictObject({ id, page: count, top: fraction, bottom: fraction, bars: list(wide), ...lean6 }),
    v.check((system) => system.top < system.bottom, 'a system has no height'),
    v.check(({ lean }) => mayLean || lean === undefined, 'a line leans, which this version has no word for'),
    v.check(
      ({ top, bottom, lean = 0 }) => Math.abs(lean) < bottom - top,
      'a line leans more than it is high',
    ),
    v.check((system) => inOrder(system.bars), 'bars of a system overlap or are out of order'),
  );
  return list(systemSchema);
}

/** Neighbours share a bar line; this much overlap is rounding, not a mistake. */
const ROUNDING = 1e-6;

function inOrder(bars: readonly Bar[]): boolean {
  return bars.every((bar, i) => i === 0 || bar.x0 >= bars[i - 1]!.x1 - ROUNDING);
}

function allDifferent(ids: readonly string[]): boolean {
  return new Set(ids).size === ids.length;
}

const start = { meter: meterSchema, unit: v.nullable(unitSchema) };

/**
 * Version 2 adds the form; version 3 pages that are turned, all of them; version 4 each by itself; version 5 bars told
 * apart; version 6 lines that lie askew.
 */
const marks2 = {
  systems: systemsOf(bar2),
  ...start,
  choruses: v.exactOptional(v.pipe(v.number(), v.integer(), v.minValue(2), v.maxValue(MAX_CHORUSES))),
  conventions: v.exactOptional(conventionsSchema),
  byHand: v.exactOptional(
    v.pipe(list(v.strictObject({ from: id, to: id })), v.minLength(1), v.maxLength(MAX_STRETCHES)),
  ),
} as const;

const turn3 = { turn: v.exactOptional(v.picklist([90, 180, 270])) } as const;
const pageNumber = v.pipe(v.string(), v.regex(/^(0|[1-9]\d{0,5})$/, 'no page'));
const turnsSchema = v.pipe(v.record(pageNumber, v.picklist([0, 90, 180, 270])), v.readonly());
const turns4 = { ...turn3, turns: v.exactOptional(turnsSchema) } as const;

const unlike5 = {
  unlike: v.exactOptional(list(v.pipe(v.strictTuple([id, id]), v.readonly()))),
} as const;

/**
 * Marks as kept and as in a save. Fails on boxes without area, bars out of order and ids used twice.
 * Every version there ever was is read as it stands: a kept event is never rewritten, so that the same event
 * is the same on every machine. Each version lacks only what is optional in the next.
 */
export const marksSchema = v.pipe(
  v.variant(
    'version',
    [
      v.strictObject({ version: v.literal(1), systems: systemsOf(bar1), ...start }),
      v.strictObject({ version: v.literal(2), ...marks2 }),
      v.strictObject({ version: v.literal(3), ...marks2, ...turn3 }),
      v.strictObject({ version: v.literal(4), ...marks2, ...turns4 }),
      v.strictObject({
        version: v.literal(5),
        ...marks2,
        ...turns4,
        ...unlike5,
      }),
      v.strictObject({
        version: v.literal(6),
        ...marks2,
        systems: systemsOf(bar2, true),
        ...turns4,
        ...unlike5,
      }),
    ],
    'marks of a version that this release does not know: update first',
  ),
  v.check(
    (marks) => allDifferent(marks.systems.flatMap((s) => s.bars.map((b) => b.id))),
    'a bar id is used twice',
  ),
  v.check((marks) => allDifferent(marks.systems.map((s) => s.id)), 'a system id is used twice'),
);

const boxSchema = v.pipe(v.strictTuple([fraction, fraction, fraction, fraction]), v.readonly());
const placedSchema = v.strictObject({ page: count, box: boxSchema, reach: boxSchema, ...lean6 });
const spanEntries = { from: count, to: count };

/** The ladder's numbers, with the limits that the screen offers too. */
export const numbersSchema = v.strictObject({
  streak: counted,
  joinStreak: counted,
  start: bpmSchema,
  step: bpmSchema,
  goal: bpmSchema,
  doubleStepAbove: v.nullable(bpmSchema),
  sectionLength: v.nullable(counted),
  joining: v.picklist(['one-by-one', 'pairs']),
  seams: v.boolean(),
  differing: v.boolean(),
  twins: v.boolean(),
  silence: v.boolean(),
  skipped: list(id),
  repeatedRungs: list(bpmSchema),
});

const routeBarSchema = v.strictObject({
  bar: id,
  boxes: list(placedSchema),
  number: v.pipe(v.number(), v.integer()),
  twin: count,
  section: count,
  meter: meterSchema,
  unit: unitSchema,
  beats,
  silent: v.boolean(),
  tied: v.boolean(),
  leadIn: v.pipe(v.number(), v.minValue(0)),
});

/** The bars of a route by themselves. Fails where twins do not fit it. */
export const routeSchema = v.pipe(
  list(routeBarSchema),
  v.check(
    (bars) => bars.every((bar, i) => firstOfClass({ bars }, bar.twin, i)),
    'twins do not fit the route',
  ),
);

/** A plan as kept and as in a save. Fails where twins or sections do not fit the route. */
export const planSchema = v.pipe(
  v.strictObject({
    version: v.literal(1),
    bars: routeSchema,
    sections: list(v.strictObject({ ...spanEntries, name: v.string() })),
    pickup: v.nullable(v.strictObject({ bar: id, boxes: list(placedSchema), beats })),
    numbers: numbersSchema,
  }),
  v.check((plan) => sectionsCover(plan), 'sections do not fit the route'),
);

function firstOfClass(plan: Pick<Plan, 'bars'>, twin: number, place: number): boolean {
  return twin <= place && plan.bars[twin]?.twin === twin;
}

function sectionsCover(plan: Pick<Plan, 'bars' | 'sections'>): boolean {
  let next = 0;
  for (const [index, section] of plan.sections.entries()) {
    if (section.from !== next || section.to < section.from) return false;
    for (let place = section.from; place <= section.to; place++)
      if (plan.bars[place]?.section !== index) return false;
    next = section.to + 1;
  }
  return next === plan.bars.length;
}

/** Thrown when a kept or imported value is no such thing; the message is one plain line. */
export class NotReadable extends Error {
  override readonly name = 'NotReadable';
}

function parse<S extends v.GenericSchema>(schema: S, what: string, value: unknown): v.InferOutput<S> {
  const result = v.safeParse(schema, value);
  if (result.success) return result.output;
  const issue = result.issues[0];
  const where = v.getDotPath(issue);
  throw new NotReadable(`${what}${where === null ? '' : ` at ${where}`}: ${issue.message}`);
}

/** Marks from unknown JSON. Throws NotReadable. */
export function parseMarks(value: unknown): Marks {
  return parse(marksSchema, 'marks', value);
}

/** A plan from unknown JSON. Throws NotReadable. */
export function parsePlan(value: unknown): Plan {
  return parse(planSchema, 'plan', value);
}

/** The ladder's numbers from unknown JSON. Throws NotReadable. */
export function parseNumbers(value: unknown): Numbers {
  return parse(numbersSchema, 'numbers', value);
}
