import { evenLines } from '../../core/chart/edit-systems.ts';
import type { ReadonlySignal } from '@preact/signals';
import { linesOf } from '../../core/chart/edit-lines.ts';
import { gapsOf, staffStart } from '../../core/chart/reach.ts';
import type { BarId, PageBox } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';
import { shapeOf } from './actions.ts';
import type { Editor } from './editor.ts';
import type { Gestures } from './gestures.ts';
import { SystemBox } from './SystemBox.tsx';
import { wordsOf } from './words.ts';

export interface SheetProps {
  readonly page: number;
  readonly editor: Editor;
  readonly gestures: Gestures;
  /** Bars that a question is about. */
  readonly lit: ReadonlySignal<ReadonlySet<BarId>>;
}

const percent = (fraction: number) => `${100 * fraction}%`;

/** Everything that lies on one page while it is marked. */
export function Sheet({ page, editor, gestures, lit }: SheetProps) {
  const marks = editor.marks.value;
  const words = wordsOf(marks);
  return (
    <div class="marks-sheet" role="group" aria-label={t('marks_page', page + 1)} {...gestures.handlers}>
      {marks.systems.map(
        (system, line) =>
          system.page === page && (
            <SystemBox
              key={system.id}
              {...{ system, line, words, editor }}
              gaps={gapsOf(marks, system)}
              start={staffStart(marks, system)}
              lit={lit.value}
            />
          ),
      )}
      <Ghost page={page} editor={editor} gestures={gestures} />
    </div>
  );
}

/** The system being drawn, or the copy that a click would put under the pointer. */
function Ghost({ page, editor, gestures }: Omit<SheetProps, 'lit'>) {
  const gesture = gestures.now.value;
  if (gesture.kind === 'drawing' && gesture.page === page) {
    const [ax, ay, bx, by] = gesture.box;
    const box: PageBox = [Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by)];
    const lines = evenLines(box[0], box[2], editor.count.value);
    return <Outline top={box[1]} bottom={box[3]} lines={lines} count={lines.length - 1} />;
  }
  const like = shapeOf(editor);
  if (gesture.kind !== 'hovering' || gesture.at.page !== page || !like) return null;
  const half = (like.bottom - like.top) / 2;
  const { y } = gesture.at;
  const taken = editor.marks.value.systems.some(
    (system) => system.page === page && y - half < system.bottom && system.top < y + half,
  );
  return taken ? null : <Outline top={y - half} bottom={y + half} lines={linesOf(like.bars)} />;
}

interface OutlineProps {
  readonly top: number;
  readonly bottom: number;
  readonly lines: readonly number[];
  readonly count?: number;
}

function Outline({ top, bottom, lines, count }: OutlineProps) {
  return (
    <div class="marks-ghost" style={{ top: percent(top), height: percent(bottom - top) }}>
      {lines.slice(1).map((x1, i) => (
        <div key={i} style={{ left: percent(lines[i]!), width: percent(x1 - lines[i]!) }} />
      ))}
      {count !== undefined && <output style={{ left: percent(lines.at(-1)!) }}>{count}</output>}
    </div>
  );
}
