/** A player who corrects one place, and what became of the others. */
import { edit, type Edit } from '../../../src/core/chart/edit.ts';
import type { Marks } from '../../../src/core/chart/types.ts';
import { proposalFrom } from '../../../src/core/find/proposal.ts';
import { seenSystems, teach, type SeenSystem } from '../../../src/core/find/teach/index.ts';
import type { FoundPage } from '../../../src/core/find/types.ts';
import type { Truth } from '../truth.ts';

/** A true bar line between two bars of one line of music; fractions of the page. */
export interface TrueLine {
  readonly page: number;
  readonly y: number;
  readonly x: number;
}

/** A line stands where a bar line is when it is this near, a fraction of the page's width. */
const NEAR = 0.006;

export const trueLines = ({ pages }: Truth): TrueLine[] =>
  pages.flatMap(({ width, height, systems }, page) =>
    systems.flatMap(({ bars }) =>
      bars.slice(1).map(({ box }) => ({ page, x: box[0] / width, y: (box[1] + box[3]) / 2 / height })),
    ),
  );

/** A line between two bars of the marks. */
interface MarkedLine extends TrueLine {
  readonly system: string;
  readonly index: number;
}

export const linesIn = (marks: Marks): MarkedLine[] =>
  marks.systems.flatMap(({ id, page, top, bottom, bars }) =>
    bars.slice(1).map(({ x0 }, i) => ({ system: id, index: i + 1, page, x: x0, y: (top + bottom) / 2 })),
  );

const isAt = (a: TrueLine, b: TrueLine) =>
  a.page === b.page && Math.abs(a.y - b.y) < 0.01 && Math.abs(a.x - b.x) < NEAR;

export interface Standing {
  /** Lines where no bar line is, bar lines where no line is, and bar lines that have one. */
  readonly wrong: readonly MarkedLine[];
  readonly missing: readonly TrueLine[];
  readonly right: readonly TrueLine[];
}

export function standing(marks: Marks, truth: readonly TrueLine[]): Standing {
  const lines = linesIn(marks);
  return {
    wrong: lines.filter((line) => !truth.some((one) => isAt(one, line))),
    missing: truth.filter((one) => !lines.some((line) => isAt(one, line))),
    right: truth.filter((one) => lines.some((line) => isAt(one, line))),
  };
}

export interface Tally {
  lessons: number;
  taught: number;
  /** Places that were wrong beside the corrected one; those put right; right ones made wrong. */
  others: number;
  mended: number;
  broken: number;
}

export const emptyTally = (): Tally => ({ lessons: 0, taught: 0, others: 0, mended: 0, broken: 0 });

let next = 0;
export const newId = () => `t${next++}`;

export const proposed = (pages: readonly FoundPage[]): { marks: Marks; seen: SeenSystem[] } => ({
  marks: proposalFrom(pages, newId),
  seen: seenSystems(pages),
});

/** One correction and its lesson, counted. */
export function correct(
  tally: Tally,
  marks: Marks,
  seen: readonly SeenSystem[],
  truth: readonly TrueLine[],
  command: Edit,
): Marks {
  const after = edit(marks, command, newId);
  const taught = teach(command, { before: marks, after, seen, newId });
  const [was, is] = [standing(after, truth), standing(taught?.marks ?? after, truth)];
  const gone = (a: readonly TrueLine[], b: readonly TrueLine[]) =>
    a.filter((line) => !b.some((other) => isAt(line, other))).length;
  tally.lessons++;
  if (taught) tally.taught++;
  tally.others += was.wrong.length + was.missing.length;
  tally.mended += gone(was.wrong, is.wrong) + gone(was.missing, is.missing);
  tally.broken += gone(was.right, is.right) + gone(is.wrong, was.wrong);
  return taught?.marks ?? after;
}
