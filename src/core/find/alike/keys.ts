import type { FoundPage } from '../types.ts';
import { isSameHead, openedHead } from './compare.ts';

/**
 * Which lines of scanned pages begin alike, so in the same clefs and key: a number for each line, by page and
 * system. Lines in doubt have none, and so have lines behind which another key comes: it may change in the line.
 */
export function lineKeys(pages: readonly FoundPage[]): ReadonlyMap<string, number> {
  const lines = pages.flatMap(({ page, systems }) =>
    systems.map(({ head }, system) => ({ name: `${page} ${system}`, head: head ? openedHead(head) : null })),
  );
  const kinds: ReturnType<typeof openedHead>[] = [];
  const own = lines.map(({ head }) => {
    if (head === null) return null;
    const known = kinds.findIndex((kind) => isSameHead(kind, head));
    return known >= 0 ? known : kinds.push(head) - 1;
  });
  const keys = new Map<string, number>();
  lines.forEach(({ name }, i) => {
    const key = own[i] ?? null;
    const next = own.slice(i + 1).find((kind) => kind !== null);
    if (key !== null && (next === undefined || next === key)) keys.set(name, key);
  });
  return keys;
}
