/** Bars of an engraved page that differ in one sign are no twins, wherever the sign stands. */
import { describe, expect, it } from 'vitest';
import { wholeChart } from '../../../src/core/find/chart/index.ts';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import type { Ink } from '../../../src/core/find/types.ts';
import { head, letter, line, shape, staff } from './drawn/ink.ts';

const TOP = 100;
/** Where the two bars begin, and their music in them. */
const BARS = [50, 300];
const melody = (x: number): Ink[] => [
  head(x + 60, TOP + 10),
  head(x + 120, TOP + 5),
  head(x + 180, TOP + 15),
];

/** A word, a letter every five points. */
const word = (x: number, y: number, text: string): Ink[] =>
  Array.from(text, (one, i) => letter(x + i * 5, y, one));

/** The same so much lower. */
function moved(ink: Ink, by: number): Ink {
  if (ink.kind === 'line') return { ...ink, y0: ink.y0 + by, y1: ink.y1 + by };
  const [x0, y0, x1, y1] = ink.box;
  const box: [number, number, number, number] = [x0, y0 + by, x1, y1 + by];
  if (ink.kind === 'image') return { ...ink, box };
  const rings = ink.rings.map((ring) => ring.map((value, i) => (i % 2 === 1 ? value + by : value)));
  return ink.kind === 'glyph' ? { ...ink, box, rings, y: ink.y + by } : { ...ink, box, rings };
}

const areTwins = (first: readonly Ink[], second: readonly Ink[], ...more: Ink[]) => {
  const ends = [line(300, TOP, 300, TOP + 20), line(550, TOP, 550, TOP + 20)];
  const ink = [...staff(TOP), ...ends, ...first, ...second, ...more];
  const found = findInInk({ width: 600, height: 800, ink });
  expect(found.systems.flatMap(({ bars }) => bars)).toHaveLength(2);
  return wholeChart([found]).twins.length === 1;
};

describe('two bars of one melody', () => {
  const at = (make: (x: number) => readonly Ink[]) => BARS.map((x) => [...melody(x), ...make(x)]);

  it('are twins', () => {
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    expect(areTwins(first!, second!)).toBe(true);
  });

  it.each([
    ['over the staff', TOP - 8],
    ['on the lowest lines of the staff', TOP + 19],
  ])('are none with other chord symbols %s', (_, y) => {
    const [first, second] = BARS.map((x, i) => [...melody(x), ...word(x + 80, y, i === 0 ? 'Em' : 'Dm')]);
    expect(areTwins(first!, second!)).toBe(false);
  });

  it.each([
    ['a bass for its root', 'D/E', 'E/D'],
    ['raised numbers changed about', 'C7b9#5', 'C7#9b5'],
  ])('are none with a chord symbol of the same letters, %s', (_, one, other) => {
    const [first, second] = BARS.map((x, i) => [
      ...melody(x),
      ...word(x + 60, TOP - 8, i === 0 ? one : other),
    ]);
    expect(areTwins(first!, second!)).toBe(false);
  });

  it('are none where an accidental stands beside a segno', () => {
    const sharp = (x: number): Ink => ({
      ...letter(x + 110, TOP - 17, '\ue262', { wide: 5, high: 14 }),
      font: 'Bravura',
    });
    const segno: Ink = {
      ...letter(BARS[1]! + 117, TOP - 16, '\ue047', { wide: 11, high: 16 }),
      font: 'Bravura',
    };
    const [first, second] = at(() => []);
    expect(areTwins(first!, second!, segno)).toBe(true);
    expect(areTwins(first!, second!, segno, sharp(BARS[1]!))).toBe(false);
  });

  it('are none where a title stands right over the number of a chord symbol', () => {
    const raised = letter(BARS[1]! + 70, TOP - 12, '7', { size: 6, wide: 3, high: 4 });
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    const title = Array.from('Tune', (one, i) =>
      letter(340 + i * 7, TOP - 20, one, { size: 12, wide: 7, high: 10 }),
    );
    expect(areTwins(first!, [...second!, raised], ...title)).toBe(false);
  });

  it('are none where a flat stands before the number of a chord symbol', () => {
    const flat = (x: number) => shape(x + 66, TOP - 15, 4, 7, 'flat');
    const [first, second] = at((x) => [letter(x + 60, TOP - 8, 'F'), flat(x)]);
    expect(areTwins(first!, [...second!, letter(BARS[1]! + 71, TOP - 8, '7')])).toBe(false);
  });

  it('are none where a chord symbol touches a note of another height', () => {
    const [first, second] = BARS.map((x, i) => [
      ...melody(x),
      head(x + 220, TOP - (i === 0 ? 5 : 7.5)),
      ...word(x + 212, TOP - 6, 'D'),
    ]);
    expect(areTwins(first!, second!)).toBe(false);
  });

  it('are twins though the box of a section touches one of their chord symbols', () => {
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    const x = BARS[1]! + 47;
    const frame = { ...shape(x, TOP - 17, 11, 11, 'frame'), filled: false };
    expect(areTwins(first!, second!, letter(x + 2, TOP - 8, 'B'), frame)).toBe(true);
  });

  it('are twins though the side of a box around the next section’s name looks like a stem', () => {
    const [first, second] = BARS.map((x) => [...melody(x), head(x + 210, TOP + 25)]);
    // Under the second bar a box: its left side touches the lowest head.
    const x = BARS[1]! + 210.2;
    const frame = [
      line(x, TOP + 26, x, TOP + 42),
      line(x + 12, TOP + 26, x + 12, TOP + 42),
      line(x, TOP + 26, x + 12, TOP + 26),
      line(x, TOP + 42, x + 12, TOP + 42),
    ];
    expect(areTwins(first!, second!, ...frame, letter(x + 3, TOP + 38, 'B'))).toBe(true);
  });

  it('are twins though one is drawn three times as wide', () => {
    const chart = (other: number): number => {
      const notes = (x: number, gap: number) =>
        [0, 1, 2].map((i) => head(x + 12 + i * gap, TOP + 10 - 5 * i));
      const ends = [line(450, TOP, 450, TOP + 20), line(580, TOP, 580, TOP + 20)];
      const named = [...word(62, TOP - 8, 'Dmaj7'), ...word(462, TOP - 8, 'Dmaj7')];
      const ink = [...staff(TOP), ...ends, ...notes(50, 130), ...notes(450, other), ...named];
      return wholeChart([findInInk({ width: 600, height: 800, ink })]).twins.length;
    };
    expect(chart(40)).toBe(1);
  });

  it('are twins though a tempo stands as close over the triangle of one as its letters are', () => {
    const triangle = (x: number): Ink => ({
      ...shape(x, TOP - 15, 5, 5, 'triangle', [x, TOP - 10, x + 5, TOP - 10, x + 2.5, TOP - 15]),
      filled: false,
    });
    const symbol = (x: number) => [letter(x, TOP - 8, 'F'), triangle(x + 6)];
    const tempo = word(BARS[0]! + 20, TOP - 15.5, 'Medium Swing');
    const [first, second] = at((x) => symbol(x + 60));
    expect(areTwins([...tempo, ...first!], second!)).toBe(true);
    expect(areTwins([...tempo, ...first!], [...melody(BARS[1]!), letter(BARS[1]! + 60, TOP - 8, 'F')])).toBe(
      false,
    );
  });

  it('are twins though words of the form stand close to the chord symbol of one', () => {
    const [first, second] = at((x) => word(x + 180, TOP - 8, 'Em'));
    expect(areTwins(first!, second!, ...word(490, TOP - 18, 'To Coda'))).toBe(true);
    const behind = word(BARS[0]! + 141, TOP - 8, 'To Coda');
    expect(areTwins([...first!, ...behind], second!)).toBe(true);
  });

  it('are none where a chord symbol before the bar line is the last note’s, and twins where it is the next bar’s', () => {
    const [first, second] = at(() => []);
    const [one, two] = [word(50 + 14, TOP - 8, 'Am'), word(297, TOP - 8, 'Am')];
    // Nothing is struck near the end of the first bar: the second chord symbol is the next bar's.
    expect(areTwins([...first!, ...one], [...second!, ...two])).toBe(true);
    const last = [head(291, TOP + 10), head(541, TOP + 10)];
    expect(areTwins([...first!, last[0]!, ...one], [...second!, last[1]!, ...two])).toBe(false);
  });

  it('are twins though a whole rest stands elsewhere in one', () => {
    const rest = (x: number) => shape(x, TOP + 5, 6, 2.5, 'whole');
    const low = [...staff(TOP + 60), ...[300, 550].map((x) => line(x, TOP, x, TOP + 80))];
    const joined = line(50, TOP, 50, TOP + 80);
    const music = [...BARS.map((x) => head(x + 120, TOP + 70)), rest(110), rest(480)];
    const ink = [...staff(TOP), ...low, joined, ...music];
    expect(wholeChart([findInInk({ width: 600, height: 800, ink })]).twins).toEqual([[0, 1]]);
  });

  it('are twins though a segno of three pieces stands over one', () => {
    const [first, second] = at((x) => word(x + 60, TOP - 8, 'Dm'));
    const x = BARS[1]! + 63;
    const segno = [
      shape(x, TOP - 32, 7, 12, 'S'),
      line(x, TOP - 21, x + 7, TOP - 31, 0.5),
      shape(x - 2, TOP - 27, 2, 2, 'spot'),
      shape(x + 7, TOP - 28, 2, 2, 'spot'),
    ];
    expect(areTwins(first!, second!, ...segno)).toBe(true);
  });

  it('are twins though the first line begins with a repeat and a block rest', () => {
    const block = (x: number): Ink => {
      const [y0, y1] = [TOP + 6, TOP + 14];
      const ring = [
        [x, y0], [x, y1], [x + 0.5, y1], [x + 0.5, TOP + 11.5], [x + 20, TOP + 11.5], [x + 20, y1],
        [x + 20.5, y1], [x + 20.5, y0], [x + 20, y0], [x + 20, TOP + 8.5], [x + 0.5, TOP + 8.5], [x + 0.5, y0],
      ].flat(); // prettier-ignore
      return { ...shape(x, y0, 20.5, 8, 'block'), rings: [ring] };
    };
    const line1 = (top: number, count: string): Ink[] =>
      [...staff(TOP), ...word(140, TOP - 16, 'Am'), block(140), ...word(148, TOP - 2, count)].map((ink) =>
        moved(ink, top - TOP),
      );
    const start = [line(90, 100, 90, 120, 3), line(94, 100, 94, 120)];
    const dots = [shape(98, 106.5, 2, 2, 'dot'), shape(98, 111.5, 2, 2, 'dot')];
    const rows = (count: string, other: string) => [
      ...[...start, ...dots, ...line1(100, count), line(300, 100, 300, 120)],
      ...[head(400, 110), line(550, 100, 550, 120)],
      ...[...line1(200, other), line(300, 200, 300, 220), head(400, 210), line(550, 200, 550, 220)],
    ];
    const twins = (count: string, other: string) => {
      const found = findInInk({ width: 600, height: 800, ink: rows(count, other) });
      return { twins: wholeChart([found]).twins, rests: found.systems[0]!.bars[0]!.restBars };
    };
    expect(twins('2', '2')).toEqual({ twins: [[0, 2], [1, 3]], rests: 2 }); // prettier-ignore
    expect(twins('2', '3').twins).toEqual([[1, 3]]);
    expect(twins('12', '12').twins).toEqual([[0, 2], [1, 3]]); // prettier-ignore
    expect(twins('12', '21').twins).toEqual([[1, 3]]);
  });

  it('are twins though a beam of the line above hangs over one of them', () => {
    const above = [...staff(TOP - 60), head(100, TOP - 50), line(550, TOP - 60, 550, TOP - 40)];
    const beam = line(350, TOP - 34, 370, TOP - 34, 2.5);
    const ends = BARS.map((x) => line(x + 250, TOP, x + 250, TOP + 20));
    const ink = [...above, beam, ...staff(TOP), ...BARS.flatMap(melody), ...ends];
    expect(wholeChart([findInInk({ width: 600, height: 800, ink })]).twins).toEqual([[1, 2]]);
  });

  it('are twins though their beams are drawn level, and as short as a rest', () => {
    const stems = (x: number, off: number) =>
      [60.2, 66.2].map((to) => line(x + to + off, TOP + 10, x + to + off, TOP + 27));
    const short = (x: number): Ink[] => [head(x + 60, TOP + 10), head(x + 66, TOP + 10), ...stems(x, 0)];
    const beam = (x: number, wide: number) => shape(x + 60, TOP + 25.5, wide, 2.5, `beam ${wide}`);
    const [first, second] = BARS.map((x, i) => [...short(x), beam(x, 6.3 + i / 10)]);
    expect(areTwins(first!, second!)).toBe(true);
  });
});
