import type { Sign } from './things.ts';
import { headerKeys, headersOf, type SystemInk } from './written.ts';

/** What a system starts with, told apart from the accidentals of its first note. */
export interface SystemKey {
  /** Clefs and key; systems with the same text are in the same. Null: the key changes within it. */
  readonly key: string | null;
  /** The signs of it: no part of the first bar's music. */
  readonly signs: ReadonlySet<Sign>;
}

/**
 * Clef and key of every system of a page. What all systems start with is the key; what one has more, before
 * its first note, belongs to that note.
 */
export function keysOf(systems: readonly SystemInk[]): SystemKey[] {
  const all = systems.map((system) => headersOf(system));
  const texts = systems.map((system, i) => headerKeys(all[i]!, system.staves));
  const keys = texts.map((own, i): { key: string; counts: number[] } => {
    const counts = own.map((list, staff) => {
      const others = texts.filter((other) => other.length === own.length).map((other) => other[staff]!);
      const prefixes = others.filter(
        (other) => other.length > 0 && other.every((text, k) => list[k] === text),
      );
      return Math.min(list.length, ...prefixes.map((other) => other.length));
    });
    return { key: JSON.stringify(texts[i]!.map((list, staff) => list.slice(0, counts[staff]))), counts };
  });
  return keys.map(({ key, counts }, i) => {
    const next = keys[i + 1];
    const stays = next === undefined || next.key === key;
    return {
      key: stays ? key : null,
      signs: new Set(all[i]!.flatMap((list, staff) => list.slice(0, counts[staff]))),
    };
  });
}
