import type { EventBody } from '../../core/log/events.ts';
import type { ChartState } from '../../core/log/state.ts';

/** Writes records one after another. When one cannot be kept, those behind it are not tried. */
export class Recorder {
  readonly #append: (bodies: readonly EventBody[]) => Promise<ChartState>;
  #tail: Promise<unknown> = Promise.resolve();
  #failed = false;
  #under = 0;

  constructor(append: (bodies: readonly EventBody[]) => Promise<ChartState>) {
    this.#append = append;
  }

  /** Records are under way. */
  get busy(): boolean {
    return this.#under > 0;
  }

  /** Calls back once: `kept` after the commit, or `lost` for the first that failed. */
  record(bodies: readonly EventBody[], kept: (chart: ChartState) => void, lost: () => void): void {
    this.#under++;
    this.#tail = this.#tail.then(async () => {
      const chart = this.#failed ? null : await this.#append(bodies).catch(() => null);
      this.#under--;
      if (this.#failed) return;
      if (chart) kept(chart);
      else {
        this.#failed = true;
        lost();
      }
    });
  }

  /** Tries again: after a failure nothing is written until this is called. */
  again(): void {
    void this.#tail.then(() => (this.#failed = false));
  }
}
