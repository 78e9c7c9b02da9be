/** A hash over a set of event ids, the same in any order: their number and two sums of 32 bits. */
export interface IdsHash {
  readonly count: number;
  readonly a: number;
  readonly b: number;
}

export const NO_IDS: IdsHash = { count: 0, a: 0, b: 0 };

/** FNV-1a over UTF-16 units, from a given start. */
function fnv(text: string, start: number): number {
  let hash = start;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}

/** The hash with one more id. */
export function withId({ count, a, b }: IdsHash, id: string): IdsHash {
  return {
    count: count + 1,
    a: (a + fnv(id, 0x811c9dc5)) >>> 0,
    b: (b + fnv(id, 0x9747b28c)) >>> 0,
  };
}

export const hashOf = (ids: readonly string[]): IdsHash => ids.reduce(withId, NO_IDS);

export const sameIds = (x: IdsHash, y: IdsHash): boolean => x.count === y.count && x.a === y.a && x.b === y.b;
