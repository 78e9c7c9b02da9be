export { stretchesOf } from './by-hand.ts';
export { beatsOf, unitLength, unitOf } from './meter.ts';
export { formText, spanName, type SpanName, type SpanPart } from './name.ts';
export { defaultNumbers, planOf, playablePlan, routeOf } from './plan.ts';
export { placed, reachOf, staffStart } from './reach.ts';
export { contradictionOf, type SignProblem, type SignProblemKind } from './repeats.ts';
export { routeFrom, type Route } from './route.ts';
export type { Sounding } from './play.ts';
export {
  NotReadable,
  marksSchema,
  numbersSchema,
  parseMarks,
  parseNumbers,
  parsePlan,
  planSchema,
} from './schema.ts';
export { doubtsOf, IN_DOUBT, takeFound, takePage, type FoundAnew } from './found.ts';
export { usualConventions } from './conventions.ts';
export { withVersion } from './version.ts';
export { writtenBars, type WrittenBar } from './written.ts';
export type * from './types.ts';
