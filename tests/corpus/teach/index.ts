/**
 * `npx tsx tests/corpus/teach/index.ts [tuning|report] [FOLDER] [--scans]`: plants mistakes in what was found on
 * the corpus, corrects one, and counts how many of the others become right and how many right ones wrong.
 * Tunes of even seeds are for tuning.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { findInInk } from '../../../src/core/find/engraved/index.ts';
import { findPixels } from '../../../src/core/find/pixels/index.ts';
import type { FoundPage, PageInk } from '../../../src/core/find/types.ts';
import { openInk } from '../../../src/pdf/node.ts';
import { suffer, type Point } from '../scans/defects.ts';
import { print } from '../scans/print.ts';
import { Random } from '../tunes/random.ts';
import type { Truth } from '../truth.ts';
import { correct, emptyTally, proposed, standing, trueLines, type Tally, type TrueLine } from './play.ts';
import { isAsHigh, printed, taking, type Print } from './plant.ts';

const args = process.argv.slice(2);
const [half = 'tuning', root = '/tmp/holdfast-corpus'] = args.filter((arg) => !arg.startsWith('--'));
const isScans = args.includes('--scans');
const seedOf = (file: string) => Number(/-(\d+)\./.exec(file)![1]);
const isMine = (file: string) => (seedOf(file) % 2 === 0) === (half === 'tuning');

/** Corrections tried on a chart, each from the beginning. */
const TRIES = 4;
const table = new Map<string, Tally>();
const tallyOf = (what: string) => {
  if (!table.has(what)) table.set(what, emptyTally());
  return table.get(what)!;
};
const some = <T>(random: Random, list: readonly T[]): T[] =>
  [...list]
    .map((one) => [random.next(), one] as const)
    .sort(([a], [b]) => a - b)
    .slice(0, TRIES)
    .map(([, one]) => one);

/** Only where nothing else is wrong can be told what a lesson has changed; also, some charts' truth is of another print. */
function isRight(pages: readonly FoundPage[], truth: readonly TrueLine[]): boolean {
  const { wrong, missing } = standing(proposed(pages).marks, truth);
  const right = wrong.length + missing.length === 0;
  if (!right) leftAside++;
  return right;
}
let leftAside = 0;

/** A bar line where it has come to on a page that has suffered. */
function movedLine(
  { page, x, y }: TrueLine,
  size: { readonly width: number; readonly height: number },
  picture: { readonly width: number; readonly height: number },
  to: (point: Point) => Point,
  dpi: number,
): TrueLine {
  const [u, v] = to([(x * size.width * dpi) / 72, (y * size.height * dpi) / 72]);
  return { page, x: u / picture.width, y: v / picture.height };
}

/** Strokes taken for bar lines: one is taken away. */
function takenWrongly(what: string, pages: readonly FoundPage[], truth: readonly TrueLine[], random: Random) {
  const { marks, seen } = proposed(pages.map((page) => taking(page, isAsHigh)));
  for (const { system, index } of some(random, standing(marks, truth).wrong))
    correct(tallyOf(`${what}: stems taken`), marks, seen, truth, {
      type: 'remove-line',
      system,
      line: index,
    });
}

/** Bar lines that were not found: one is put in. */
function leftOut(what: string, pages: readonly FoundPage[], truth: readonly TrueLine[], random: Random) {
  const { marks, seen } = proposed(pages);
  for (const { page, x, y } of some(random, standing(marks, truth).missing)) {
    const bar = marks.systems
      .filter((one) => one.page === page && one.top < y && one.bottom > y)
      .flatMap(({ bars }) => bars)
      .find(({ x0, x1 }) => x0 < x && x1 > x);
    // The player's hand is as sure as that.
    const at = x + 0.002 * (random.next() - 0.5);
    if (bar) correct(tallyOf(what), marks, seen, truth, { type: 'add-line', bar: bar.id, x: at });
  }
}

/** Nothing is wrong, and the player joins or splits bars all the same: nothing else may change. */
function rightAlready(what: string, pages: readonly FoundPage[], truth: readonly TrueLine[], random: Random) {
  const { marks, seen } = proposed(pages);
  const inner = marks.systems.flatMap(({ id, bars }) => bars.slice(1).map((_, i) => ({ id, line: i + 1 })));
  for (const { id, line } of some(random, inner))
    correct(tallyOf(`${what}: right bar line taken away`), marks, seen, truth, {
      type: 'remove-line',
      system: id,
      line,
    });
  const bars = marks.systems.flatMap((system) => system.bars);
  for (const bar of some(random, bars)) {
    const strokes = seen
      .flatMap(({ lines }) => lines)
      .filter(({ x, kind }) => kind === undefined && x > bar.x0 + 0.01 && x < bar.x1 - 0.01);
    for (const { x } of some(random, strokes).slice(0, 2))
      correct(tallyOf(`${what}: split at a stem`), marks, seen, truth, { type: 'add-line', bar: bar.id, x });
  }
}

for (const engraver of readdirSync(root)) {
  if (half === 'tuning' && engraver === 'abcjs') continue;
  const folder = join(root, engraver);
  for (const file of readdirSync(folder)
    .filter((name) => name.endsWith('.truth.json') && isMine(name))
    .sort()) {
    const truth = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Truth;
    const pdf = join(folder, `${truth.tune}.pdf`);
    if (!existsSync(pdf)) continue;
    const random = new Random(seedOf(file));
    const wanted = trueLines(truth);
    if (isScans) {
      for (const defect of ['sound', 'faxed', 'scanned', 'photographed']) {
        const dpi = 150;
        const { picture, to } = suffer(print(pdf, 0, dpi), defect, seedOf(file), dpi);
        const found = [findPixels(picture, 0, truth.pages[0]!)];
        const first = wanted.filter(({ page }) => page === 0);
        const moved = first.map((line) => movedLine(line, truth.pages[0]!, picture, to, dpi));
        // On a page on which more is wrong a lesson from what is right cannot be told from one from what is wrong.
        if (!isRight(found, moved)) continue;
        takenWrongly(defect, found, moved, random);
        rightAlready(defect, found, moved, random);
      }
      continue;
    }
    const opened = await openInk(new Uint8Array(readFileSync(pdf)));
    const inks: PageInk[] = [];
    for (let i = 0; i < opened.pages; i++) inks.push(await opened.ink(i));
    await opened.destroy();
    const found = inks.map((ink, i) => findInInk(ink, i));
    if (!isRight(found, wanted)) continue;
    takenWrongly(engraver, found, wanted, random);
    rightAlready(engraver, found, wanted, random);
    for (const how of ['short', 'dashed'] as const satisfies Print[]) {
      const lines = truth.pages.map(({ systems }) =>
        systems.flatMap(({ bars }) =>
          bars
            .slice(1)
            .flatMap(({ box, left }) =>
              left === 'single' && random.chance(0.6) ? [{ x: box[0], top: box[1], bottom: box[3] }] : [],
            ),
        ),
      );
      const anew = inks.map((ink, i) => findInInk(printed(ink, lines[i] ?? [], how), i));
      leftOut(`${engraver}: ${how} bar lines left out`, anew, wanted, random);
    }
  }
}

process.stdout.write(
  '| planted | corrections | that taught | other mistakes | put right | right ones made wrong |\n| --- | --- | --- | --- | --- | --- |\n',
);
for (const [what, { lessons, taught, others, mended, broken }] of [...table].sort(([a], [b]) =>
  a.localeCompare(b),
))
  process.stdout.write(
    `| ${what} | ${lessons} | ${taught} | ${others} | ${mended} (${others ? Math.round((100 * mended) / others) : 0} %) | ${broken} |\n`,
  );
process.stdout.write(`${leftAside} charts left aside\n`);
