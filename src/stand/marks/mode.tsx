import { signal, type ReadonlySignal } from '@preact/signals';
import type { TuneInFile } from '../../core/find/tunes.ts';
import type { Bar, Jump } from '../../core/chart/types.ts';
import { MAX_REST } from '../../core/chart/conventions.ts';
import { changesBetween } from '../../core/chart/changes.ts';
import { takeFound } from '../../core/chart/found.ts';
import { takeOut } from '../../core/chart/part.ts';
import { contradictionOf } from '../../core/chart/repeats.ts';
import { routeFrom } from '../../core/chart/route.ts';
import { sameTurns, turnsOf } from '../../core/chart/turn.ts';
import { t } from '../../host/i18n.ts';
import type { Settings } from '../../store/types.ts';
import type { Handlers } from '../../ui/commands.ts';
import type { Mode, StandContext } from '../mode.ts';
import { createActions, nextSection } from './actions.ts';
import { createAsking } from './asking.ts';
import { COUNTS } from './commands.ts';
import { createEditor, NOTHING } from './editor.ts';
import { createGestures } from './gestures.ts';
import './marks.css';
import { MarksRail } from './MarksRail.tsx';
import { createKeeper, hasBars, numbersOf } from './saving.ts';
import { Sheet } from './Sheet.tsx';
import { contradictionText, JUMPS, wordsOf } from './words.ts';

export { marksCommands } from './commands.ts';

/** Boxing the bars of a chart and saying what they are. */
export function createMarksMode(context: StandContext, settings: ReadonlySignal<Settings>): Mode {
  const editor = createEditor(context);
  const actions = createActions(context, editor);
  const gestures = createGestures(context, editor, actions);
  const numbers = signal(numbersOf(context));
  const asking = createAsking(context, editor);
  const keeper = createKeeper(context, editor, numbers, () => {
    numbers.value = numbersOf(context);
    gestures.cancel();
  });

  const begin = async () => {
    const marks = editor.history.peek().present;
    if (!hasBars(marks)) {
      context.warn(t('marks_start'));
      return;
    }
    const contradiction = contradictionOf(routeFrom(marks).problems);
    if (contradiction) {
      context.warn(contradictionText(marks, contradiction));
      return;
    }
    try {
      await keeper.keepPlan();
      context.go('drill');
    } catch {
      // What could not be written has been said by the stand.
    }
  };
  const part = async () => {
    const systems = actions.selectedLines();
    const marks = editor.history.peek().present;
    if (systems.length === 0 || systems.length === marks.systems.length) {
      context.warn(t('marks_choose_lines'));
      return;
    }
    try {
      const page = marks.systems.find(({ id }) => id === systems[0])!.page;
      const name = await context.another(takeOut(marks, systems).part, page);
      if (!editor.make({ type: 'take-out', systems })) return;
      await editor.readTaken();
      // What is drilled here must not hold the bars that have gone.
      const { problems } = routeFrom(editor.history.peek().present);
      await (context.state.peek().plan && !contradictionOf(problems) ? keeper.keepPlan() : keeper.keep());
      context.warn(t('marks_parted', name));
    } catch {
      // What could not be written has been said by the stand, and the lines are still here.
    }
  };
  const another = () => {
    if (context.book.tunes.peek().length > 1) {
      choosing.value = true;
      return;
    }
    anotherInView();
  };
  const pageInView = () => context.view.toPage(innerWidth / 3, innerHeight / 2, Infinity)?.page ?? 0;
  const anotherInView = () => {
    const page = pageInView();
    void keeper.keep().then(() => context.another(null, page));
  };
  const turn = () => {
    const page = pageInView();
    if (editor.make({ type: 'turn-page', page })) void context.turning(keeper.keep, page);
  };
  const choosing = signal(false);
  const toTune = (tune: TuneInFile | null) => {
    choosing.value = false;
    if (tune === null) anotherInView();
    else void keeper.keep().then(() => context.toTune(tune));
  };
  let finding = false;
  const findAgain = async () => {
    if (finding || !context.writing.peek()) return;
    finding = true;
    context.announce(t('marks_finding'));
    try {
      const found = await context.find();
      if (!found) {
        context.warn(t('marks_found_none'));
        return;
      }
      const before = editor.history.peek().present;
      const { added, gone, kept } = takeFound(before, found);
      if (!editor.make({ type: 'take-found', found })) return;
      const marks = editor.history.peek().present;
      if (!sameTurns(turnsOf(before), turnsOf(marks))) {
        await context.turning(keeper.keep);
        return;
      }
      const text = t('marks_found_again', added, gone, kept);
      editor.learning.changes.value = { text, list: changesBetween(before, marks), marks };
      context.announce(text);
    } finally {
      finding = false;
    }
  };
  const first = (): Bar | undefined => editor.bars()[0];
  const toggle =
    (key: 'silent' | 'tied' | 'repeatStart' | 'continues' | 'segno' | 'coda' | 'toCoda' | 'fine') => () =>
      actions.say({ [key]: !editor.bars().every((bar) => bar[key]) });
  const step = (by: 1 | -1) => () => {
    const system = editor.selection.peek().kind === 'system' ? editor.system() : null;
    if (gestures.now.peek().kind === 'drawing' || !system) actions.recount(by);
    else actions.setCount(system.bars.length + by);
  };
  const counted = (count: number) => () => {
    const drawing = gestures.now.peek().kind === 'drawing';
    if (drawing || editor.selection.peek().kind !== 'system') editor.count.value = count;
    else actions.setCount(count);
  };
  const arrow = (dx: number, dy: number, far: boolean) => () => actions.arrow(dx, dy, far);
  const beatsOf = (bar: Bar) => wordsOf(editor.marks.peek()).get(bar.id)?.beats ?? 4;

  const handlers: Handlers = {
    ...asking.handlers,
    'marks-left': arrow(-1, 0, false),
    'marks-right': arrow(1, 0, false),
    'marks-up': arrow(0, -1, false),
    'marks-down': arrow(0, 1, false),
    'marks-far-left': arrow(-1, 0, true),
    'marks-far-right': arrow(1, 0, true),
    'marks-far-up': arrow(0, -1, true),
    'marks-far-down': arrow(0, 1, true),
    'marks-draw': () => actions.drawByKey(),
    'marks-copy': () => actions.copy(),
    'marks-more': step(1),
    'marks-fewer': step(-1),
    ...Object.fromEntries(COUNTS.map((count) => [`marks-count-${count}`, counted(count)])),
    'marks-whole': () => actions.whole(),
    'marks-out': () => {
      if (gestures.now.peek().kind === 'idle' || gestures.now.peek().kind === 'hovering') actions.out();
      else gestures.cancel();
    },
    'marks-split': () => actions.split(null, null),
    'marks-join': () => actions.join(),
    'marks-remove': () => actions.remove(),
    'marks-section': () => {
      const bar = first();
      actions.say({ section: bar ? nextSection(editor.marks.peek(), bar) : null });
    },
    'marks-as': () => actions.asSameName(),
    'marks-silent': toggle('silent'),
    'marks-tied': toggle('tied'),
    'marks-repeat-start': toggle('repeatStart'),
    'marks-repeat-end': () => {
      const times = first()?.repeatEnd ?? 1;
      actions.say({ repeatEnd: times >= 4 ? null : times + 1 });
    },
    'marks-ending': () => {
      const number = first()?.ending?.[0] ?? 0;
      actions.say({ ending: number >= 3 ? null : [number + 1] });
    },
    'marks-segno': toggle('segno'),
    'marks-coda': toggle('coda'),
    'marks-to-coda': toggle('toCoda'),
    'marks-fine': toggle('fine'),
    'marks-jump': () => {
      const jumps = Object.keys(JUMPS) as Jump[];
      const jump = first()?.jump;
      actions.say({ jump: jumps[jump === undefined ? 0 : jumps.indexOf(jump) + 1] ?? null });
    },
    'marks-rest': () => {
      const bars = first()?.restBars ?? 1;
      actions.say({ restBars: bars >= MAX_REST ? null : bars + 1 });
    },
    'marks-pickup': () => actions.say({ pickup: first()?.pickup === undefined ? 1 : null }),
    'marks-lead-in': () => {
      const bar = first();
      const beats = (bar?.leadIn ?? 0) + 1;
      actions.say({ leadIn: bar && beats < beatsOf(bar) ? beats : null });
    },
    'marks-broken': toggle('continues'),
    'marks-next-doubt': () => actions.nextDoubt(),
    'marks-next-change': () => actions.nextChange(),
    'marks-vouch': () => actions.vouch(),
    'marks-find': () => void findAgain(),
    'marks-turn': turn,
    'marks-part': () => void part(),
    'marks-another': another,
    'marks-undo': () => editor.undo(),
    'marks-redo': () => editor.redo(),
    'marks-begin': () => void begin(),
  };

  return {
    Rail: () => (
      <MarksRail {...{ context, editor, actions, asking, numbers, handlers, settings, choosing, toTune }} />
    ),
    overlay: (page) => <Sheet page={page} editor={editor} gestures={gestures} lit={asking.lit} />,
    handlers,
    leave() {
      gestures.cancel();
      editor.selection.value = NOTHING;
      keeper.end();
      context.view.setOverlay(() => null);
    },
  };
}
