export type { DrillView, Heard, Session } from './session-types.ts';
