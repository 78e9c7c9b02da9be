/** One change of a stored shape, from one version to the next. */
export interface Migration<From extends number, To extends number> {
  readonly from: From;
  readonly to: To;
  /** Gets a value of version `from`, not yet checked, and returns new. */
  readonly up: (value: unknown) => unknown;
}

/** Thrown for a value of a version that no migration leads from. */
export class UnknownVersion extends Error {
  override readonly name = 'UnknownVersion';
}

/**
 * A chain of migrations up to the present version. Each declares from and to in its type, so that a
 * chain with a gap does not compile. A migration is never changed or removed once released; one that
 * repairs an earlier one says which and why.
 */
export class Migrations<Now extends number> {
  private constructor(
    readonly now: Now,
    private readonly steps: readonly Migration<number, number>[],
  ) {}

  static startingAt<First extends number>(first: First): Migrations<First> {
    return new Migrations(first, []);
  }

  then<To extends number>(step: Migration<Now, To>): Migrations<To> {
    return new Migrations(step.to, [...this.steps, step]);
  }

  /** Brings a value of an earlier version up to the present one. Throws UnknownVersion. */
  up(value: unknown, version: unknown): unknown {
    if (version === this.now) return value;
    const first = this.steps.findIndex((step) => step.from === version);
    if (first < 0) {
      const newer = typeof version === 'number' && version > this.now;
      throw new UnknownVersion(newer ? 'made by a newer release: update first' : 'of no known version');
    }
    return this.steps.slice(first).reduce((held, step) => step.up(held), value);
  }
}

/** A save's versions so far. */
export const saveMigrations = Migrations.startingAt(1);
