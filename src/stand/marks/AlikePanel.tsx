import type { Marks } from '../../core/chart/types.ts';
import { plural, t } from '../../host/i18n.ts';
import type { Handlers } from '../../ui/commands.ts';
import { CommandButton } from '../CommandButton.tsx';
import type { StandView } from '../mode.ts';
import { boxesOf, type Asking, type Pair } from './asking.ts';
import { BarPicture } from './BarPicture.tsx';
import { ranges, wordsOf } from './words.ts';

/** Two bars under each other are read at this size, CSS px. */
const STAFF = 28;
const WIDTH = 250;

interface AlikePanelProps {
  readonly marks: Marks;
  readonly asking: Asking;
  readonly view: StandView;
  readonly handlers: Handlers;
}

/**
 * Stretches of a scan that look alike: the player says which bars are the same, since a twin is learned once. What
 * is surely the same is not shown again.
 */
export function AlikePanel({ marks, asking, view, handlers }: AlikePanelProps) {
  const [question, ...more] = asking.questions.value;
  if (!question) return null;
  const { pairs } = question;
  const words = wordsOf(marks);
  const numberOf = (bar: string) => words.get(bar)?.number ?? 0;
  // "4–8" stays on one line.
  const span = (bars: readonly string[]) => ranges(bars.map(numberOf)).replaceAll('–', '\u2060–\u2060');
  return (
    <section class="marks-alike" aria-label={t('marks_alike_title')} data-alike={more.length + 1}>
      <h2>{t('marks_alike_ask', span(pairs.map(({ bar }) => bar)), span(pairs.map(({ like }) => like)))}</h2>
      <p>{t('marks_alike_why')}</p>
      <ul>
        {pairs
          .filter(({ look }) => look !== 'same')
          .map((pair) => (
            <PairRow key={`${pair.bar} ${pair.like}`} {...{ pair, marks, asking, view, numberOf }} />
          ))}
      </ul>
      <div class="marks-found">
        <CommandButton id="marks-alike" label="marks_cmd_alike" handlers={handlers} />
        <CommandButton id="marks-unlike" label="marks_cmd_unlike" handlers={handlers} />
        <CommandButton id="marks-alike-show" label="marks_cmd_alike_show" handlers={handlers} class="plain" />
      </div>
      {more.length > 0 && <p>{plural('marks_alike_more', more.length)}</p>}
    </section>
  );
}

interface PairRowProps extends Omit<AlikePanelProps, 'handlers'> {
  readonly pair: Pair;
  readonly numberOf: (bar: string) => number;
}

/** A bar under the one that it looks like, to be ticked as the same. */
function PairRow({ pair, marks, asking, view, numberOf }: PairRowProps) {
  const bars = [pair.like, pair.bar].flatMap((id) => boxesOf(marks, new Set([id])));
  return (
    <li>
      <label>
        <input
          type="checkbox"
          checked={asking.isTicked(pair)}
          onChange={(event) => asking.tick(pair, event.currentTarget.checked)}
        />
        <span>{t('marks_alike_pair', numberOf(pair.bar), numberOf(pair.like))}</span>
        <span class="marks-pair">
          {bars.map((bar, i) => (
            <BarPicture key={i} {...{ view, bar }} staff={STAFF} width={WIDTH} />
          ))}
        </span>
      </label>
    </li>
  );
}
