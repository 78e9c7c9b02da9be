import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  defaultNumbers,
  planOf,
  routeFrom,
  routeOf,
  stretchesOf,
  type Bar,
  type Conventions,
  type Marks,
} from '../../../src/core/chart/index.ts';
import { marksOf, plainBars } from './marks-of.ts';

type Signs = Partial<Bar>;

/** The route as bar numbers. */
function played(signs: readonly Signs[], extra: Partial<Marks> = {}): string {
  return routeOf(marksOf(signs, extra))
    .map((id) => id.slice(1))
    .join(' ');
}
const problems = (signs: readonly Signs[], extra: Partial<Marks> = {}) =>
  routeFrom(marksOf(signs, extra)).problems;
const under = (conventions: Partial<Conventions>) => ({ conventions });

const segno = { segno: true } as const;
const coda = { coda: true } as const;
const toCoda = { toCoda: true } as const;
const fine = { fine: true } as const;

describe('worked examples', () => {
  // Each with the bars as the source prints them and the order in which it says they sound.
  const cases: [source: string, signs: Signs[], route: string][] = [
    [
      'LilyPond 2.26, regression test repeat-dc-al-coda ("tests D.C. al Coda form and how it unfolds"): g | a | a | b as g a a g b',
      [toCoda, {}, { jump: 'dc-al-coda' }, coda],
      '1 2 3 1 4',
    ],
    [
      'LilyPond 2.26, regression test repeat-ds-al-coda: f | g | a | a | b as f g a a g b',
      [{}, { ...segno, ...toCoda }, {}, { jump: 'ds-al-coda' }, coda],
      '1 2 3 4 2 5',
    ],
    [
      'LilyPond 2.26, regression test repeat-ds-al-fine: g | a | b as g a b a',
      [{}, { ...segno, ...fine }, { jump: 'ds-al-fine' }],
      '1 2 3 2',
    ],
    [
      'LilyPond 2.26, Notation Reference, "Al-fine repeats": f | b, Fine in a repeat at its second time, as f b f',
      [{ ...fine, repeatStart: true }, { repeatEnd: 2 }],
      '1 2 1',
    ],
    [
      'Music Theory Fundamentals, 1.8 "Repeat signs", D.C. al fine: through the first ending, again, the second ending, to the last bar, from the head to the Fine, skipping the first ending',
      [{}, { ending: [1], repeatEnd: 2 }, { ending: [2], ...fine }, {}, { jump: 'dc-al-fine' }],
      '1 2 1 3 4 5 1 3',
    ],
    [
      'MusicXML 4.0, sound/dacapo: "go back to the beginning of the movement", "the first time through"',
      [{}, { jump: 'dc' }, {}],
      '1 2 1 2 3',
    ],
    [
      'MusicXML 4.0, sound/dalsegno: "a backward jump to a segno sign"',
      [{}, segno, { jump: 'ds' }],
      '1 2 3 2 3',
    ],
    [
      'MusicXML 4.0, sound/tocoda: "the jump should occur the second time through"',
      [{}, toCoda, { jump: 'dc-al-coda' }, coda, {}],
      '1 2 3 1 2 4 5',
    ],
    [
      'MusicXML 4.0, sound/fine: "follows the final note or rest in a movement with a da capo"',
      [{}, fine, {}, { jump: 'dc-al-fine' }],
      '1 2 3 4 1 2',
    ],
    [
      'MusicXML 4.0, sound/forward-repeat: a trio whose start sign is implied, in a minuet da capo',
      [{ repeatStart: true }, { repeatEnd: 2, ...fine }, {}, { repeatEnd: 2, jump: 'dc-al-fine' }],
      '1 2 1 2 3 4 3 4 1 2',
    ],
    [
      'MusicXML 4.0, repeat/times: "the number of times the repeated section is played"',
      [{ repeatStart: true }, { repeatEnd: 3 }, {}],
      '1 2 1 2 1 2 3',
    ],
    [
      'MusicXML 4.0, ending/number: "which times the ending is played", "1,2"',
      [{}, { ending: [1, 2], repeatEnd: 3 }, { ending: [3] }],
      '1 2 1 2 1 3',
    ],
  ];
  test.each(cases)('%s', (_, signs, route) => {
    expect(played(signs)).toBe(route);
    expect(problems(signs)).toEqual([]);
  });
});

describe('conventions, each of which can be switched', () => {
  const minuet: Signs[] = [{ repeatStart: true }, { repeatEnd: 2, ...fine }, { jump: 'dc-al-fine' }];
  const endings: Signs[] = [{}, { ending: [1], repeatEnd: 2 }, { ending: [2] }, { jump: 'dc' }];
  const inRepeat: Signs[] = [{}, { repeatStart: true }, { repeatEnd: 2, jump: 'dc-al-fine', ...fine }];
  const early: Signs[] = [{}, fine, {}, { jump: 'dc-al-fine' }];
  const leap: Signs[] = [toCoda, {}, coda];
  const chorus: Signs[] = [{}, toCoda, { jump: 'dc-al-coda' }, coda];
  const cases: [name: string, signs: Signs[], extra: Partial<Marks>, usual: string, switched: string][] = [
    // MusicXML 4.0, repeat/after-jump: "if the repeats are played after a jump"; common practice: they are not.
    ['repeats after a jump', minuet, under({ repeatsAfterJump: true }), '1 2 1 2 3 1 2', '1 2 1 2 3 1 2 1 2'],
    [
      'the ending after a jump',
      endings,
      under({ endingAfterJump: 'first' }),
      '1 2 1 3 4 1 3 4',
      '1 2 1 3 4 1 2 4',
    ],
    [
      'a jump inside a repeat',
      inRepeat,
      under({ jumpAfterRepeats: false }),
      '1 2 3 2 3 1 2 3',
      '1 2 3 1 2 3',
    ],
    ['Fine before a jump', early, under({ fineAtOnce: true }), '1 2 3 4 1 2', '1 2'],
    ['"to coda" before a jump', leap, under({ codaAtOnce: true }), '1 2 3', '1 3'],
    [
      'the coda in each of two choruses',
      chorus,
      { choruses: 2, ...under({ codaLastChorus: false }) },
      '1 2 3 1 2 4',
      '1 2 3 1 2 4 1 2 3 1 2 4',
    ],
  ];
  test.each(cases)('%s', (_, signs, extra, usual, switched) => {
    expect(played(signs)).toBe(usual);
    expect(played(signs, extra)).toBe(switched);
  });
});

describe('jumps as they meet (common practice, no source)', () => {
  const cases: [name: string, signs: Signs[], route: string][] = [
    [
      'a coda has its own repeat after the jump',
      [toCoda, { jump: 'dc-al-coda' }, { ...coda, repeatEnd: 2 }, {}],
      '1 2 1 3 3 4',
    ],
    [
      'a jump under the second ending',
      [{}, { ending: [1], repeatEnd: 2 }, { ending: [2], jump: 'dc-al-fine' }, fine],
      '1 2 1 3 1 3 4',
    ],
    [
      '"al Coda" passes a Fine, "al Fine" passes a "to coda"',
      [fine, toCoda, { jump: 'dc-al-coda' }, { ...coda, ...fine }, {}],
      '1 2 3 1 2 4',
    ],
    ['a bare D.C. heeds the Fine', [{}, fine, { jump: 'dc' }], '1 2 3 1 2'],
    ['and the coda', [toCoda, { jump: 'dc' }, coda], '1 2 1 3'],
    ['"to coda" and D.S. on one bar line', [segno, { ...toCoda, jump: 'ds-al-coda' }, coda], '1 2 1 2 3'],
    [
      'a segno inside a repeat',
      [{ repeatStart: true }, segno, { repeatEnd: 2 }, { jump: 'ds' }],
      '1 2 3 1 2 3 4 2 3 4',
    ],
    ['two jumps, each taken once', [{ jump: 'dc' }, segno, { jump: 'ds' }, {}], '1 1 2 3 2 3 4'],
    ['of two segni the nearer one', [segno, {}, segno, { jump: 'ds' }], '1 2 3 4 3 4'],
    ['a segno on the pickup', [{}, { pickup: 1, ...segno }, {}, { jump: 'ds' }], '1 3 4 3 4'],
  ];
  test.each(cases)('%s', (_, signs, route) => expect(played(signs)).toBe(route));

  test('in the first of two choruses the tune ends before the coda, without any D.C. too', () => {
    expect(played([{}, toCoda, {}, coda], { choruses: 2 })).toBe('1 2 3 1 2 4');
    expect(problems([{}, toCoda, {}, coda], { choruses: 2 })).toEqual([]);
  });
});

describe('what does not fit is a problem that says where, and the rest is played', () => {
  const cases: [name: string, signs: Signs[], kind: string, bar: string, route: string][] = [
    ['D.S. without a segno', [{}, { jump: 'ds' }, {}], 'segno-missing', 'b2', '1 2 3'],
    ['D.S. with a segno only after it', [{ jump: 'ds' }, segno], 'segno-missing', 'b1', '1 2'],
    ['"to coda" without a coda', [toCoda, { jump: 'dc-al-coda' }], 'coda-missing', 'b1', '1 2 1 2'],
    ['D.S. al Coda without a segno', [toCoda, { jump: 'ds-al-coda' }, coda], 'segno-missing', 'b2', '1 2 3'],
    ['al Coda without "to coda"', [{}, { jump: 'dc-al-coda' }, coda], 'to-coda-missing', 'b2', '1 2 1 2 3'],
    ['"to coda" that nothing leads to a second time', [toCoda, {}, coda], 'jump-missing', 'b1', '1 2 3'],
    ['al Fine without a Fine', [{}, { jump: 'dc-al-fine' }], 'fine-missing', 'b2', '1 2 1 2'],
    ['a Fine before the segno', [fine, segno, { jump: 'ds-al-fine' }], 'fine-missing', 'b3', '1 2 3 2 3'],
    [
      'bars that nothing leads to',
      [toCoda, { jump: 'dc-al-coda' }, {}, {}, coda],
      'never-played',
      'b3',
      '1 2 1 5',
    ],
  ];
  test.each(cases)('%s', (_, signs, kind, bar, route) => {
    expect(problems(signs)).toEqual([{ kind, bar }]);
    expect(played(signs)).toBe(route);
  });
});

describe('choruses and sections left out', () => {
  const form: Signs[] = [
    { section: 'Intro', when: 'first-chorus' },
    { section: 'A' },
    {},
    { section: 'B', when: 'never' },
    { section: 'Tag', when: 'last-chorus' },
  ];
  test('an intro sounds before the first chorus, a tag after the last, what is left out never', () => {
    expect(played(form)).toBe('1 2 3 5');
    expect(played(form, { choruses: 3 })).toBe('1 2 3 2 3 2 3 5');
    expect(problems(form, { choruses: 3 })).toEqual([]);
  });
});

describe('a route put right by hand', () => {
  const marks = {
    byHand: [
      { from: 'b3', to: 'b4' },
      { from: 'b1', to: 'b3' },
      { from: 'b4', to: 'b4' },
    ],
  };
  test('goes as told, whatever the signs say', () => {
    expect(played([{}, { repeatEnd: 2 }, {}, {}], marks)).toBe('3 4 1 2 3 4');
  });
  test('leaps where it goes back; an ending passed over is no leap', () => {
    const leaps = routeFrom(marksOf(plainBars(4), marks)).places.map(({ leap }) => leap);
    expect(leaps).toEqual([true, false, true, false, false, false]);
    const over = {
      byHand: [
        { from: 'b1', to: 'b1' },
        { from: 'b3', to: 'b4' },
      ],
    };
    expect(routeFrom(marksOf(plainBars(4), over)).places.map(({ leap }) => leap)).toEqual([
      true,
      false,
      false,
    ]);
  });
  test('begins as the signs had it', () => {
    const signs: Signs[] = [
      { section: 'A' },
      {},
      { ending: [1], repeatEnd: 2 },
      { ending: [2] },
      { section: 'B', jump: 'dc-al-fine' },
      {},
    ];
    const before = marksOf(signs);
    const byHand = stretchesOf(before);
    expect(byHand.map(({ from, to }) => `${from}–${to}`)).toEqual([
      'b1–b3',
      'b1–b2',
      'b4–b4',
      'b5–b5',
      'b1–b2',
      'b4–b4',
      'b5–b6',
    ]);
    const after = planOf({ ...before, version: 2, byHand }, defaultNumbers);
    expect(after).toEqual(planOf(before, defaultNumbers));
  });
  test('a bar that is gone is a problem, and the rest is played', () => {
    const gone = {
      byHand: [
        { from: 'b1', to: 'x' },
        { from: 'b2', to: 'b3' },
      ],
    };
    expect(problems(plainBars(4), gone)).toEqual([{ kind: 'order-gone', bar: null }]);
    expect(played(plainBars(4), gone)).toBe('2 3');
  });
});

const maybe = <T>(value: T) => fc.constantFrom(undefined, undefined, undefined, undefined, value);
const anyBar = fc
  .record({
    repeatStart: maybe(true as const),
    repeatEnd: fc.constantFrom(undefined, undefined, undefined, 2, 3),
    ending: fc.constantFrom(undefined, undefined, undefined, undefined, [1], [2], [1, 2]),
    segno: maybe(true as const),
    coda: maybe(true as const),
    toCoda: maybe(true as const),
    fine: maybe(true as const),
    jump: fc.constantFrom(
      undefined,
      undefined,
      undefined,
      'dc',
      'dc-al-fine',
      'dc-al-coda',
      'ds',
      'ds-al-fine',
      'ds-al-coda',
    ),
    section: fc.constantFrom(undefined, undefined, undefined, 'A', 'B'),
    when: fc.constantFrom(undefined, undefined, 'first-chorus', 'last-chorus', 'never'),
    restBars: fc.constantFrom(undefined, undefined, undefined, 4),
    pickup: fc.constantFrom(undefined, undefined, undefined, undefined, undefined, undefined, 1),
  })
  .map(
    (signs) => Object.fromEntries(Object.entries(signs).filter(([, value]) => value !== undefined)) as Signs,
  );
const anyConventions: fc.Arbitrary<Conventions> = fc.record({
  repeatsAfterJump: fc.boolean(),
  endingAfterJump: fc.constantFrom('last', 'first'),
  jumpAfterRepeats: fc.boolean(),
  fineAtOnce: fc.boolean(),
  codaAtOnce: fc.boolean(),
  codaLastChorus: fc.boolean(),
});

describe('any signs at all', () => {
  test('give a route that ends, is always the same, and says of every bar that it holds it or misses it', () => {
    let jumps = 0;
    fc.assert(
      fc.property(
        fc.array(anyBar, { minLength: 1, maxLength: 24 }),
        anyConventions,
        fc.integer({ min: 2, max: 4 }),
        fc.boolean(),
        (signs, conventions, choruses, several) => {
          const marks = marksOf(signs, { conventions, ...(several ? { choruses } : {}) });
          const { written, places, problems: found } = routeFrom(marks);
          expect(routeFrom(structuredClone(marks))).toEqual({ written, places, problems: found });
          const held = new Set(places.map(({ bar }) => bar.id));
          if (signs.some(({ jump }) => jump)) jumps += 1;
          const isLeftOut = leftOut(signs);
          const missed = new Set(found.flatMap(({ kind, bar }) => (kind === 'never-played' ? [bar] : [])));
          // Reported is the first of every run of missed bars.
          let before = false;
          for (const bar of written) {
            const isMissed = !held.has(bar.id) && !isLeftOut.has(bar.id);
            expect(missed.has(bar.id)).toBe(isMissed && !before);
            before = isMissed;
          }
        },
      ),
      { numRuns: 1000 },
    );
    expect(jumps).toBeGreaterThan(600);
  });

  test('without a coda, a Fine, endings and sections, every bar is in the route', () => {
    const plain = anyBar.map(({ repeatStart, repeatEnd, segno, jump, restBars, pickup }) =>
      Object.fromEntries(
        Object.entries({ repeatStart, repeatEnd, segno, jump, restBars, pickup }).filter(
          ([, v]) => v !== undefined,
        ),
      ),
    );
    fc.assert(
      fc.property(fc.array(plain, { minLength: 1, maxLength: 24 }), anyConventions, (signs, conventions) => {
        const { written, places } = routeFrom(marksOf(signs, { conventions }));
        expect(new Set(places.map(({ bar }) => bar))).toEqual(new Set(written));
      }),
      { numRuns: 1000 },
    );
  });

  test('a form put together from intro, repeated A with endings, B and coda is played as it was put together', () => {
    const length = fc.integer({ min: 1, max: 6 });
    fc.assert(
      fc.property(
        fc.record({
          intro: length,
          a: length,
          one: length,
          two: length,
          b: length,
          tail: length,
          times: fc.integer({ min: 2, max: 5 }),
        }),
        fc.boolean(),
        ({ intro, a, one, two, b, tail, times }, fromSegno) => {
          const signs: Signs[] = [];
          const add = (count: number, first: Signs = {}, last: Signs = {}, all: Signs = {}) => {
            const from = signs.length;
            for (let i = 0; i < count; i++)
              signs.push({ ...all, ...(i === 0 ? first : {}), ...(i === count - 1 ? last : {}) });
            return Array.from({ length: count }, (_, i) => `b${from + i + 1}`);
          };
          const earlier = Array.from({ length: times - 1 }, (_, i) => i + 1);
          const parts = {
            intro: add(intro),
            a: add(a, { repeatStart: true, segno: true }),
            one: add(one, {}, { repeatEnd: times }, { ending: earlier }),
            two: add(two, {}, { toCoda: true }, { ending: [times] }),
            b: add(b, {}, { jump: fromSegno ? 'ds-al-coda' : 'dc-al-coda' }),
            tail: add(tail, { coda: true }),
          };
          const { problems: found } = routeFrom(marksOf(signs));
          expect(found).toEqual([]);
          expect(routeOf(marksOf(signs))).toEqual([
            ...parts.intro,
            ...earlier.flatMap(() => [...parts.a, ...parts.one]),
            ...parts.a,
            ...parts.two,
            ...parts.b,
            ...(fromSegno ? [] : parts.intro),
            ...parts.a,
            ...parts.two,
            ...parts.tail,
          ]);
        },
      ),
    );
  });
});

/** Ids of the bars in sections that are never to sound, by the marks alone. */
function leftOut(signs: readonly Signs[]): Set<string> {
  let out = false;
  const ids = new Set<string>();
  let carried: Signs | null = null;
  signs.forEach((bar, i) => {
    if (bar.pickup !== undefined) {
      carried = bar;
      return;
    }
    const section = bar.section ?? carried?.section;
    const starts = section !== undefined || bar.coda || carried?.coda;
    if (starts) out = (bar.when ?? carried?.when) === 'never';
    carried = null;
    if (out) ids.add(`b${i + 1}`);
  });
  return ids;
}
