/** The shapes of invented tunes: each gives its bars and, from how it was put together, its route. */
import { barOf, chordsOf } from './music.ts';
import type { Random } from './random.ts';
import type { Meter, Note, Tune, TuneBar } from './types.ts';

export interface Made {
  readonly bars: TuneBar[];
  /** Indices of written bars, pickup included in the counting and left out of the route. */
  readonly route: number[];
  readonly classes: number[];
}

export interface Setting {
  readonly random: Random;
  readonly meter: Meter;
  readonly key: number;
  readonly staves: 1 | 2;
}

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** Puts bars together and remembers which were made alike. */
class Page {
  readonly bars: TuneBar[] = [];
  readonly classes: number[] = [];
  #class = 0;
  constructor(readonly setting: Setting) {}

  /** New bars, the phrase repeating some of its own; gives [bar, class] pairs that can be written again. */
  phrase(count: number, meter = this.setting.meter): { bar: TuneBar; kind: number }[] {
    const { random, key, staves } = this.setting;
    const made: { bar: TuneBar; kind: number }[] = [];
    for (let i = 0; i < count; i++) {
      if (i >= 2 && random.chance(0.15)) made.push(made[random.below(i)]!);
      else if (i >= 2 && random.chance(0.12)) {
        // The same notes under another chord, and the other way round: close, and no twins.
        const like = made[random.below(i)]!.bar;
        made.push({
          bar: {
            ...like,
            chords: chordsOf(random, meter).map((c) => ({
              ...c,
              kind: 'm7' as const,
              root: (like.chords[0]!.root + 2) % 7,
            })),
          },
          kind: this.#class++,
        });
      } else if (i >= 2 && random.chance(0.12)) {
        const like = made[random.below(i)]!.bar;
        const at = like.notes.findIndex((note) => note.step !== null && note.step < 11);
        if (at >= 0)
          made.push({
            bar: {
              ...like,
              notes: like.notes.map((n, k): Note => (k === at ? { ...n, step: n.step! + 1, alter: 0 } : n)),
            },
            kind: this.#class++,
          });
        else made.push({ bar: barOf(random, meter, key, staves), kind: this.#class++ });
      } else made.push({ bar: barOf(random, meter, key, staves), kind: this.#class++ });
    }
    return made;
  }

  /** Writes a phrase; gives the indices of its bars. */
  add(
    phrase: readonly { bar: TuneBar; kind: number }[],
    signs: Record<number, Partial<TuneBar>> = {},
  ): number[] {
    const from = this.bars.length;
    phrase.forEach(({ bar, kind }, i) => {
      this.bars.push({ ...bar, ...(signs[i] ?? signs[i - phrase.length]) });
      this.classes.push(kind);
    });
    return range(from, this.bars.length - 1);
  }

  pickup(): void {
    const { random, key, staves, meter } = this.setting;
    const beat: Meter = { beats: 1, value: meter.value };
    const bar = barOf(random, beat, key, staves);
    const length = 16 / meter.value;
    this.bars.push({
      ...bar,
      notes: [{ step: 4, alter: 0, length }],
      bass: staves === 2 ? [{ step: null, alter: 0, length }] : [],
      chords: [],
      pickup: true,
    });
    this.classes.push(this.#class++);
  }

  made(route: number[]): Made {
    return { bars: this.bars, route, classes: this.classes };
  }
}

type Form = (page: Page) => Made;

const aaba: Form = (page) => {
  const a = page.phrase(8);
  const b = page.phrase(8);
  const route = [
    ...page.add(a, { 0: { section: 'A' }, 7: { double: true } }),
    ...page.add(a, { 0: { section: 'A' }, 7: { double: true } }),
    ...page.add(b, { 0: { section: 'B' }, 7: { double: true } }),
    ...page.add(a, { 0: { section: 'A' } }),
  ];
  return page.made(route);
};

const endings: Form = (page) => {
  if (page.setting.random.chance(0.5)) page.pickup();
  const body = page.add(page.phrase(6), { 0: { section: 'A', repeatStart: true } });
  const first = page.add(page.phrase(2), { 0: { ending: 1 }, 1: { ending: 1, repeatEnd: true } });
  const second = page.add(page.phrase(2), { 0: { ending: 2 }, 1: { ending: 2, double: true } });
  const rest = page.add(page.phrase(8), { 0: { section: 'B' } });
  return page.made([...body, ...first, ...body, ...second, ...rest]);
};

const three: Form = (page) => {
  const body = page.add(page.phrase(4), { 0: { section: 'A', repeatStart: true } });
  const first = page.add(page.phrase(1), { 0: { ending: 1, repeatEnd: true } });
  const second = page.add(page.phrase(1), { 0: { ending: 2, repeatEnd: true } });
  const third = page.add(page.phrase(2), { 0: { ending: 3 }, 1: { ending: 3, double: true } });
  const rest = page.add(page.phrase(6));
  return page.made([...body, ...first, ...body, ...second, ...body, ...third, ...rest]);
};

const both: Form = (page) => {
  const a = page.add(page.phrase(8), { 0: { section: 'A', repeatStart: true }, 7: { repeatEnd: true } });
  const b = page.add(page.phrase(8), { 0: { section: 'B', repeatStart: true }, 7: { repeatEnd: true } });
  return page.made([...a, ...a, ...b, ...b]);
};

const alFine: Form = (page) => {
  const a = page.add(page.phrase(8), { 0: { section: 'A' }, 7: { fine: true, double: true } });
  const b = page.add(page.phrase(8), { 0: { section: 'B' }, 7: { jump: { from: 'dc', al: 'fine' } } });
  return page.made([...a, ...b, ...a]);
};

const alCoda: Form = (page) => {
  const intro = page.add(page.phrase(4), { 3: { double: true } });
  const a = page.add(page.phrase(8), { 0: { section: 'A', segno: true }, 5: { toCoda: true } });
  const b = page.add(page.phrase(8), {
    0: { section: 'B' },
    7: { jump: { from: 'ds', al: 'coda' }, double: true },
  });
  const coda = page.add(page.phrase(4), { 0: { coda: true } });
  return page.made([...intro, ...a, ...b, ...a.slice(0, 6), ...coda]);
};

const blues: Form = (page) => {
  const all = page.add(page.phrase(12), { 0: { repeatStart: true }, 11: { repeatEnd: true } });
  return page.made([...all, ...all]);
};

const through: Form = (page) => {
  page.pickup();
  const other: Meter = page.setting.meter.beats === 3 ? { beats: 4, value: 4 } : { beats: 3, value: 4 };
  const a = page.add(page.phrase(7), { 0: { section: 'A' } });
  const b = page.add(page.phrase(4, other), { 0: { meter: other, section: 'B' } });
  const c = page.add(page.phrase(9), { 0: { meter: page.setting.meter } });
  return page.made([...a, ...b, ...c]);
};

const resting: Form = (page) => {
  const { random } = page.setting;
  const a = page.add(page.phrase(6), { 0: { section: 'A' }, 5: { double: true } });
  const silent = page
    .phrase(1)
    .map(({ kind }) => ({ kind, bar: { notes: [], bass: [], chords: [], rests: 2 + random.below(10) } }));
  const r = page.add(silent);
  const b = page.add(page.phrase(9), { 0: { section: 'B' } });
  return page.made([...a, ...r, ...b]);
};

export const forms: Record<string, Form> = {
  aaba,
  endings,
  three,
  both,
  alFine,
  alCoda,
  blues,
  through,
  resting,
};

export const makePage = (setting: Setting) => new Page(setting);
export type { Form, Tune };
