/** Pages whose lines say a known meter, or none, printed and spoilt. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Straight } from '../../../../src/core/find/pixels/straight.ts';
import { straightOf } from '../../../../src/core/find/pixels/index.ts';
import { meterOf, METERS, type Said } from '../../../../src/core/find/pixels/meter-shapes.ts';
import { tuneOf } from '../../tunes/index.ts';
import type { Truth } from '../../truth.ts';
import { suffer } from '../defects.ts';
import { print } from '../print.ts';

export interface Sheet {
  readonly path: string;
  readonly engraver: string;
  readonly seed: number;
  readonly page: number;
  /** What each of its systems says; null where that is not known. */
  readonly lines: readonly (readonly Said[] | null)[];
}

/** All ways of saying a meter. */
const waysOf = (beats: number, value: number): Said[] =>
  METERS.filter((said) => {
    const meter = meterOf(said);
    return meter?.beats === beats && meter.value === value;
  });

/** Pages of lines.ts, or the first pages of charts of the corpus: there the first system says the tune's meter. */
export function sheetsIn(folder: string): Sheet[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.pdf'))
    .flatMap((file): Sheet[] => {
      const path = join(folder, file);
      const seed = Number(/(\d+)\.pdf$/.exec(file)?.[1] ?? NaN);
      const lines = path.replace('.pdf', '.json');
      if (existsSync(lines)) {
        const said = JSON.parse(readFileSync(lines, 'utf8')) as Said[];
        const engraver = `${file.split('-')[0]!}, lines`;
        return [{ path, engraver, seed, page: 0, lines: said.map((one) => [one]) }];
      }
      const truth = path.replace('.pdf', '.truth.json');
      if (!existsSync(truth)) return [];
      const { pages } = JSON.parse(readFileSync(truth, 'utf8')) as Truth;
      const { meter } = tuneOf(seed);
      const first = waysOf(meter.beats, meter.value);
      // Later systems say none, unless the meter changes there: they are left out.
      const systems = pages[0]!.systems.map((_, i) => (i === 0 ? first : null));
      return [{ path, engraver: basename(folder), seed, page: 0, lines: systems }];
    });
}

/** The systems of a page that has suffered, each with what it says; none when the finder sees another number of them. */
export function systemsOf(
  { path, page, lines }: Sheet,
  defect: string,
  dpi: number,
  seed: number,
): { straight: Straight; said: readonly Said[] }[] {
  const { picture } = suffer(print(path, page, dpi), defect, seed, dpi);
  const { systems } = straightOf(picture);
  if (systems.length !== lines.length) return [];
  return systems.flatMap((straight, i) => (lines[i] ? [{ straight, said: lines[i] }] : []));
}
