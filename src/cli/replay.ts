/** `npm run -s replay -- SAVE.json [--now ISO]`: where every chart of a save stands, a line each. */
import { at, fold } from '../core/log/fold.ts';
import { looseOf, tightOf } from '../core/log/rope.ts';
import { byChart } from '../core/log/save.ts';
import { BadInput, print, readArgs, run } from './args.ts';
import { readSaveFile } from './saves.ts';

await run('replay', () => {
  const { values, positionals } = readArgs({ now: { type: 'string' } }, true);
  const [path] = positionals;
  if (path === undefined || positionals.length > 1) throw new BadInput('name one save');
  const { now } = values;
  if (now !== undefined && Number.isNaN(Date.parse(now))) throw new BadInput(`--now: no time: ${now}`);
  for (const [chart, events] of byChart(readSaveFile(path).events)) {
    const end = fold(events);
    const state = now === undefined ? end : at(end, now);
    if (state.removed) continue;
    // With all rungs climbed, the last one is the one that shows.
    const rung = state.rungs[Math.min(state.inner.rung, state.rungs.length - 1)];
    print({
      chart,
      step: state.step && { from: state.step.from, to: state.step.to, bpm: state.step.bpm },
      streak: tightOf(state),
      loose: looseOf(state),
      done: rung?.done ?? 0,
      passes: state.passes,
    });
  }
});
