import { expect, test } from 'vitest';
import { fromProposal, type Edit } from '../../../src/core/chart/edit.ts';
import { nextPlace } from '../../../src/core/chart/edit-systems.ts';
import { linesOf } from '../../../src/core/chart/edit-lines.ts';
import { begin, record } from '../../../src/core/chart/history.ts';
import { edit } from '../../../src/core/chart/edit.ts';
import { counter } from './charts.ts';

/** A page as engraved: eight lines whose bar lines fall beside the even places. */
const WANTED = Array.from({ length: 8 }, (_, line) => ({
  top: 0.12 + line * 0.1,
  // The first line holds clef, key and meter; the third is spaced otherwise.
  lines: line === 2 ? [0.08, 0.3, 0.52, 0.71, 0.92] : [0.08, 0.34, 0.55, 0.74, 0.92],
}));

test('32 bars on eight systems with three sections take at most 40 actions', () => {
  const newId = counter();
  let history = begin(fromProposal([]));
  let actions = 0;
  const act = (command: Edit) => {
    history = record(history, edit(history.present, command, newId));
    actions += 1;
  };
  const last = () => history.present.systems.at(-1)!;

  act({ type: 'add-system', page: 0, box: [0.08, 0.12, 0.92, 0.16], bars: 4 });
  WANTED.forEach(({ top, lines }, i) => {
    if (i > 0) {
      // The second line is placed by a click; from then on a key is enough.
      const place = i === 1 ? { page: 0, top } : nextPlace(history.present, last().id, 1)!;
      act({ type: 'copy-system', system: last().id, place });
    }
    lines.forEach((x, line) => {
      if (linesOf(last().bars)[line] !== x) act({ type: 'move-line', system: last().id, line, x });
    });
  });
  const starts = [0, 2, 4, 6].map((i) => history.present.systems[i]!.bars[0]!.id);
  ['A', 'A', 'B', 'A'].forEach((section, i) =>
    act({ type: 'set-bars', bars: [starts[i]!], change: { section } }),
  );
  act({ type: 'as-section', section: starts[1]!, like: starts[0]! });
  act({ type: 'as-section', section: starts[3]!, like: starts[0]! });

  const { systems } = history.present;
  expect(systems.flatMap(({ bars }) => bars)).toHaveLength(32);
  systems.forEach((system, i) => {
    expect(linesOf(system.bars)).toEqual(WANTED[i]!.lines);
    expect(system.top).toBeCloseTo(WANTED[i]!.top, 9);
  });
  expect(systems.flatMap(({ bars }) => bars).filter((bar) => bar.as)).toHaveLength(16);
  expect(actions).toBeLessThanOrEqual(40);
  // Each action is one step of undo.
  expect(history.past).toHaveLength(actions);
});
