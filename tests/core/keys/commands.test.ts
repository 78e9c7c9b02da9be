import { expect, it } from 'vitest';
import { commands } from '../../../src/stand/commands.ts';

it('no mode of the stand takes a key away from what works in every mode', () => {
  const isOwn = ({ group }: (typeof commands)[number]) => group === 'drill' || group === 'marks';
  const everywhere = new Set(commands.filter((each) => !isOwn(each)).flatMap(({ keys }) => keys));
  const taken = commands.filter(isOwn).filter(({ keys }) => keys.some((key) => everywhere.has(key)));
  expect(everywhere.size).toBeGreaterThan(5);
  expect(taken.map(({ id }) => id)).toEqual([]);
});

it.each(['drill', 'marks'])('in %s a key has one command', (mode) => {
  const keys = commands.filter(({ group }) => group === mode).flatMap(({ keys }) => keys);
  expect(keys.filter((key, i) => keys.indexOf(key) < i)).toEqual([]);
});
