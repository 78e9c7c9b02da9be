import fc from 'fast-check';
import { expect, test } from 'vitest';
import { msOf } from '../../../src/core/log/time.ts';

test('an event’s time is what the language itself reads', () => {
  const date = fc.date({ min: new Date('1970-01-01'), max: new Date('2400-01-01'), noInvalidDate: true });
  fc.assert(fc.property(date, (at) => msOf(at.toISOString()) === at.getTime()));
  expect(msOf('2026-01-05T18:00:00Z')).toBe(Date.UTC(2026, 0, 5, 18));
});
