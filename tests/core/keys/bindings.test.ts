import { describe, expect, it } from 'vitest';
import {
  bind,
  bindingOf,
  commandFor,
  conflictsOf,
  isCharacterKey,
  keysOf,
  sourceOf,
  unbind,
  type KeyChoices,
} from '../../../src/ui/bindings.ts';
import type { Command } from '../../../src/ui/commands.ts';

const command = (id: string, group: Command['group'], ...keys: string[]): Command => ({
  id,
  group,
  keys,
  label: 'extension_name',
});
const slip = command('slip', 'drill', 'ArrowLeft', 'KeyS');
const nudge = command('nudge', 'marks', 'ArrowLeft');
const help = command('help', 'general', 'Shift+Slash', 'F1');
const table = [slip, nudge, help];
const plain: KeyChoices = { keys: {}, singleLetters: true };
const press = (
  code: string,
  held: Partial<Record<'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey', true>> = {},
) => ({
  code,
  key: '',
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  shiftKey: false,
  ...held,
});
const noop = () => undefined;

describe('the binding that a key press makes', () => {
  it('takes both Enter keys for one', () => {
    expect(bindingOf(press('NumpadEnter'), false)).toBe('Enter');
    expect(bindingOf(press('NumpadEnter', { ctrlKey: true }), false)).toBe('Mod+Enter');
  });

  it.each([
    ['a key alone', press('Space'), false, 'Space'],
    ['Ctrl is Mod on a PC', press('KeyZ', { ctrlKey: true }), false, 'Mod+KeyZ'],
    ['Command is Mod on a Mac', press('KeyZ', { metaKey: true }), true, 'Mod+KeyZ'],
    [
      'modifiers in a fixed order',
      press('KeyZ', { shiftKey: true, ctrlKey: true, altKey: true }),
      false,
      'Mod+Alt+Shift+KeyZ',
    ],
    ['Ctrl on a Mac binds nothing', press('KeyZ', { ctrlKey: true }), true, null],
    ['the system key binds nothing', press('KeyZ', { metaKey: true }), false, null],
    ['a modifier alone binds nothing', press('ShiftLeft', { shiftKey: true }), false, null],
    ['a pedal that sends no code', { ...press(''), key: 'PageDown' }, false, 'PageDown'],
    ['a pedal that sends a bare space', { ...press(''), key: ' ' }, false, 'Space'],
  ])('%s', (_name, event, mac, wanted) => {
    expect(bindingOf(event, mac)).toBe(wanted);
  });
});

describe('which command answers', () => {
  it('is the one that is handled now', () => {
    expect(commandFor('ArrowLeft', table, plain, { nudge: noop })?.id).toBe('nudge');
    expect(commandFor('ArrowLeft', table, plain, { slip: noop, nudge: noop })?.id).toBe('slip');
    expect(commandFor('ArrowLeft', table, plain, { help: noop })).toBeNull();
  });
  it("follows the player's own keys, and an empty list is no key", () => {
    const own = { ...plain, keys: { slip: ['PageDown'], help: [] } };
    expect(commandFor('PageDown', table, own, { slip: noop })?.id).toBe('slip');
    expect(commandFor('KeyS', table, own, { slip: noop })).toBeNull();
    expect(keysOf(help, own)).toEqual([]);
  });
  it('leaves characters alone when single letters are off, chosen ones too', () => {
    const off = { keys: { help: ['KeyH', 'F1'] }, singleLetters: false };
    expect(keysOf(slip, off)).toEqual(['ArrowLeft']);
    expect(keysOf(help, off)).toEqual(['F1']);
  });
});

it.each([
  ['KeyS', true],
  ['Shift+Slash', true],
  ['Digit3', true],
  ['Mod+KeyZ', false],
  ['Space', false],
  ['F1', false],
  ['PageDown', false],
])('%s types a character: %s', (binding, wanted) => {
  expect(isCharacterKey(binding)).toBe(wanted);
});

it.each([
  ['PageUp', 'pedal'],
  ['PageDown', 'pedal'],
  ['ArrowUp', 'pedal'],
  ['Space', 'key'],
  ['Shift+ArrowLeft', 'key'],
  ['KeyS', 'key'],
])('%s is spoken by a %s', (binding, wanted) => {
  expect(sourceOf(binding)).toBe(wanted);
});

describe('conflicts', () => {
  it('are none between drilling and marking', () => {
    expect(conflictsOf(slip, 'ArrowLeft', table, plain)).toEqual([]);
  });
  it('are told against commands that run everywhere', () => {
    expect(conflictsOf(slip, 'F1', table, plain)).toEqual([help]);
    expect(conflictsOf(help, 'ArrowLeft', table, plain)).toEqual([slip, nudge]);
  });
  it('are resolved by taking the key from the other, and reset gives back the first keys', () => {
    const own = bind(help, ['ArrowLeft'], table, plain);
    expect(own).toEqual({ help: ['ArrowLeft'], slip: ['KeyS'], nudge: [] });
    expect(unbind(slip, { ...plain, keys: own })).toEqual({ help: ['ArrowLeft'], nudge: [] });
    expect(plain.keys).toEqual({});
  });
});
