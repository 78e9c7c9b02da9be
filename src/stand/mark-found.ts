/** A chart takes the bars that were found on its pages. */
import { defaultNumbers, takePage } from '../core/chart/index.ts';
import type { Marks } from '../core/chart/types.ts';
import { t } from '../host/i18n.ts';
import { announce } from '../ui/LiveRegion.tsx';
import type { OpenChart } from './chart.ts';
import type { FoundTune } from './find/finding.ts';
import { keepMarks } from './keep.ts';

type Find = () => Promise<Pick<FoundTune, 'marks' | 'title'> | null>;

/** A chart that nobody has marked is marked as the page itself says, and can be played at once. False: it was not. */
export async function markFirst(chart: OpenChart, find: Find, isPart: boolean): Promise<boolean> {
  const { marks: before } = chart.state.value;
  // A new part may know how its pages lie; what the player has left without bars stays as it is.
  const isUntouched = before === null || (isPart && before.marks.systems.length === 0);
  if (!isUntouched || !chart.writing.value) return false;
  const found = await find();
  if (found) await takeMarks(chart, found.marks, found.title);
  else announce(t('stand_found_none'));
  return found !== null;
}

/**
 * A page, from 0, that the player has just turned gets the bars that are found on it now. False: nobody looked, for it
 * has bars already or another stand writes the chart.
 */
export async function markTurned(chart: OpenChart, page: number, find: Find): Promise<boolean> {
  const before = chart.state.value.marks?.marks;
  if (before?.systems.some((line) => line.page === page) || !chart.writing.value) return false;
  const found = await find();
  const marks = found && before ? takePage(before, found.marks, page) : null;
  if (marks?.systems.some((line) => line.page === page)) await takeMarks(chart, marks, null);
  else announce(t('stand_found_none'));
  return true;
}

/** Keeps marks that were found, and the plan that they make; the title is printed over them, null where none is. */
function takeMarks({ state, append }: OpenChart, marks: Marks, title: string | null): Promise<void> {
  const { marks: before, plan } = state.value;
  return keepMarks(append, marks, {
    parent: before?.event ?? null,
    numbers: plan?.plan.numbers ?? defaultNumbers,
    // Until now it was called after its file.
    first: title === null ? [] : [{ type: 'named', name: title }],
  });
}
