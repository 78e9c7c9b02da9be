import { describe, expect, test } from 'vitest';
import { at, inNewSitting } from '../../../src/core/log/fold.ts';
import { iso, planOf, rope, where, Writer } from './make.ts';

const NOBODY = { by: 'nobody' } as const;
const SLIP = { verdict: 'slip' } as const;
const VOID = { verdict: 'void', brokenBy: 'player' } as const;
const BROKEN = { verdict: 'void', brokenBy: 'machine' } as const;
const minutes = (n: number) => (w: Writer) => {
  w.clock += n * 60;
};
const sitting = (w: Writer) => {
  w.sitting = `${w.sitting}+`;
};
const vouch = (w: Writer) => w.vouch();
const vouchSlip = (w: Writer) => w.vouch('slip');
type Act = Parameters<Writer['pass']>[0] | ((w: Writer) => unknown);

/** What is done on bar 1 with N = 5, and the rope and place it leaves. */
const table: [string, Act[], string, string?][] = [
  ['clean by someone ties tight knots', [{}, {}], 'TT'],
  ['clean by nobody ties loose knots', [NOBODY, NOBODY], 'll'],
  ['one press tightens all loose knots', [NOBODY, NOBODY, vouch], 'TT'],
  ['a clean pass by key is such a press', [NOBODY, NOBODY, {}], 'TTT'],
  ['the ear answers for its own pass alone', [NOBODY, { by: 'ear' }], 'lT'],
  ['a slip lets the rope run out', [{}, {}, SLIP], ''],
  ['a slip before the next pass does so too', [{}, NOBODY, vouchSlip], ''],
  ['unsure changes nothing', [{}, { verdict: 'unsure' }], 'T'],
  ['a trial never counts', [{}, { kind: 'trial' }, { kind: 'trial', verdict: 'slip' }], 'T'],
  ['a pass by heart counts on the step', [{}, { kind: 'recall' }], 'TT'],
  ['a void is a gap and the streak stands', [{}, VOID, {}], 'T-T'],
  ['a second void of the player is a slip', [{}, VOID, {}, VOID], ''],
  ['after a slip the void is there again', [{}, VOID, SLIP, {}, VOID], 'T-'],
  ['the machine breaks off as often as it likes', [{}, BROKEN, {}, BROKEN, {}], 'T-T-T'],
  ['gaps side by side are one', [{}, BROKEN, BROKEN, BROKEN], 'T-'],
  ['an empty rope has nothing to void', [VOID, {}, VOID], 'T-'],
  ['N tight knots: the next step', [{}, {}, {}, {}, {}], '', '2–2 at 60'],
  ['gaps are no places', [{}, {}, BROKEN, {}, {}], 'TT-TT', '1–1 at 60'],
  [
    'an empty room earns nothing',
    [NOBODY, NOBODY, NOBODY, NOBODY, NOBODY, NOBODY, NOBODY],
    'lllll',
    '1–1 at 60',
  ],
  ['the press at the Nth place', [NOBODY, NOBODY, NOBODY, NOBODY, NOBODY, vouch], '', '2–2 at 60'],
  ['a new sitting drops what nobody vouched for', [{}, NOBODY, sitting, {}], 'TT'],
  ['a sitting keeps what was vouched for', [NOBODY, NOBODY, vouch, sitting, NOBODY], 'TTl'],
  ['a gap alone is no rope', [NOBODY, VOID, sitting, NOBODY, VOID], 'l-'],
  ['nine minutes loosen nothing', [{}, {}, minutes(9.5), NOBODY], 'TTl'],
  ['ten minutes: cold and clean tightens', [{}, {}, minutes(11), { kind: 'cold' }], 'TTT'],
  ['ten minutes: cold and slipped runs out', [{}, {}, minutes(11), { ...SLIP, kind: 'cold' }], ''],
  ['ten minutes: no answer leaves them loose', [{}, {}, minutes(11), { ...NOBODY, kind: 'cold' }], 'LLl'],
  ['no answer, then a press', [{}, {}, minutes(11), NOBODY, vouch], 'TTT'],
  ['cold and unsure: still waiting', [{}, {}, minutes(11), { verdict: 'unsure' }, {}], 'TTT'],
  ['cold, judged by ear', [{}, {}, minutes(11), { by: 'ear' }], 'TTT'],
  ['a trial is not the cold pass', [{}, {}, minutes(11), { kind: 'trial' }, NOBODY], 'LLl'],
  ['a press after the pause waits for the cold pass', [{}, NOBODY, minutes(11), vouch], 'LL'],
  ['a night', [{}, {}, minutes(14 * 60), sitting, { kind: 'cold' }], 'TTT'],
];

function play(acts: readonly Act[]): Writer {
  const w = new Writer();
  w.plan(planOf(['b1', 'b2', 'b3'], { streak: 5 }));
  for (const act of acts)
    if (typeof act === 'function') act(w);
    else w.pass(act);
  return w;
}

describe('an honest streak', () => {
  test.each(table)('%s', (_name, acts, knots, step = '1–1 at 60') => {
    const { state } = play(acts);
    expect([rope(state), where(state)]).toEqual([knots, step]);
  });

  test('seen after the pause the knots are loose and the next pass is cold', () => {
    const w = play([{}, {}]);
    expect(rope(at(w.state, iso(w.clock + 599)))).toBe('TT');
    const later = at(w.state, iso(w.clock + 600));
    expect([rope(later), later.cold]).toEqual(['LL', true]);
  });

  test('what a new sitting will find', () => {
    expect(rope(inNewSitting(play([{}, NOBODY, NOBODY]).state))).toBe('T');
  });

  test('the tally counts passes, slips, minutes and the bars that broke', () => {
    const w = play([{}, { kind: 'trial' }, { ...SLIP, slips: [{ beat: 2 }] }, BROKEN]);
    const { tally, passes } = w.state;
    expect(tally).toMatchObject({ passes: 2, slips: 1, breaks: [{ place: 0, count: 1 }] });
    // 4 s each; before the first a bar's gap (4 s), before the second the 6 s since the trial.
    expect(tally.minutes).toBeCloseTo((4 + 4 + 4 + 6) / 60, 9);
    expect(passes).toBe(2);
  });
});
