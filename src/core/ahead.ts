/** Something that takes long to make: one may be made before it is needed. */
export interface Ahead<T> {
  /** Makes one, unless one is waiting. */
  readonly prepare: () => void;
  /** The one that is waiting, or else a new one. */
  readonly take: () => T;
}

export function ahead<T>(make: () => T): Ahead<T> {
  let waiting: { readonly made: T } | null = null;
  return {
    prepare() {
      waiting ??= { made: make() };
    },
    take() {
      const { made } = waiting ?? { made: make() };
      waiting = null;
      return made;
    },
  };
}
