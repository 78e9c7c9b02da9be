/** A small generator of random numbers, so that a seed gives one tune for ever (mulberry32, public domain). */
export class Random {
  #state: number;
  constructor(seed: number) {
    this.#state = seed >>> 0;
  }
  /** 0 ≤ x < 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }
  /** A whole number from 0 to n − 1. */
  below(n: number): number {
    return Math.floor(this.next() * n);
  }
  pick<T>(list: readonly T[]): T {
    return list[this.below(list.length)]!;
  }
  chance(p: number): boolean {
    return this.next() < p;
  }
}
