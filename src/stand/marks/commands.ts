import type { MessageKey } from '../../host/i18n.ts';
import type { Command } from '../../ui/commands.ts';

const row = (id: string, label: MessageKey, ...keys: string[]): Command => ({
  id: `marks-${id}`,
  label,
  group: 'marks',
  keys,
});

/** Counts that have a key of their own. */
export const COUNTS = [1, 2, 3, 4, 5, 6, 7, 8] as const;

/** What marking the page answers to. */
export const marksCommands: readonly Command[] = [
  row('left', 'marks_cmd_left', 'ArrowLeft'),
  row('right', 'marks_cmd_right', 'ArrowRight'),
  row('up', 'marks_cmd_up', 'ArrowUp'),
  row('down', 'marks_cmd_down', 'ArrowDown'),
  row('far-left', 'marks_cmd_far_left', 'Shift+ArrowLeft'),
  row('far-right', 'marks_cmd_far_right', 'Shift+ArrowRight'),
  row('far-up', 'marks_cmd_far_up', 'Shift+ArrowUp'),
  row('far-down', 'marks_cmd_far_down', 'Shift+ArrowDown'),
  row('draw', 'marks_cmd_draw', 'KeyN'),
  row('copy', 'marks_cmd_copy', 'Enter'),
  row('more', 'marks_cmd_more', 'Equal', 'NumpadAdd', 'Shift+Equal'),
  row('fewer', 'marks_cmd_fewer', 'Minus', 'NumpadSubtract'),
  ...COUNTS.map((count) =>
    row(`count-${count}`, `marks_cmd_count_${count}`, `Digit${count}`, `Numpad${count}`),
  ),
  row('whole', 'marks_cmd_whole', 'KeyW'),
  row('out', 'marks_cmd_out', 'Escape'),
  row('split', 'marks_cmd_split', 'KeyX'),
  row('join', 'marks_cmd_join', 'KeyJ'),
  row('remove', 'marks_cmd_remove', 'Delete', 'Backspace'),
  row('section', 'marks_cmd_section', 'KeyS'),
  row('as', 'marks_cmd_as', 'KeyA'),
  row('silent', 'marks_cmd_silent', 'KeyR'),
  row('tied', 'marks_cmd_tied', 'KeyT'),
  row('repeat-start', 'marks_cmd_repeat_start', 'BracketLeft'),
  row('repeat-end', 'marks_cmd_repeat_end', 'BracketRight'),
  row('ending', 'marks_cmd_ending', 'KeyE'),
  row('segno', 'marks_cmd_segno', 'KeyG'),
  row('coda', 'marks_cmd_coda', 'KeyO'),
  row('to-coda', 'marks_cmd_to_coda', 'Shift+KeyO'),
  row('fine', 'marks_cmd_fine', 'KeyF'),
  row('jump', 'marks_cmd_jump', 'KeyL'),
  row('rest', 'marks_cmd_rest', 'Shift+KeyR'),
  row('pickup', 'marks_cmd_pickup', 'KeyP'),
  row('lead-in', 'marks_cmd_lead_in', 'KeyI'),
  row('broken', 'marks_cmd_broken', 'KeyC'),
  row('next-doubt', 'marks_cmd_next_doubt', 'KeyQ'),
  row('next-change', 'marks_cmd_next_change', 'Shift+KeyQ'),
  row('vouch', 'marks_cmd_vouch', 'KeyV'),
  row('alike', 'marks_cmd_alike', 'KeyY'),
  row('unlike', 'marks_cmd_unlike', 'KeyU'),
  row('alike-show', 'marks_cmd_alike_show', 'KeyH'),
  row('find', 'marks_cmd_find', 'Shift+KeyF'),
  row('turn', 'marks_cmd_turn', 'Alt+KeyR'),
  row('part', 'marks_cmd_part', 'Shift+KeyP'),
  row('another', 'marks_cmd_another', 'Shift+KeyN'),
  row('undo', 'marks_cmd_undo', 'Mod+KeyZ'),
  row('redo', 'marks_cmd_redo', 'Mod+Shift+KeyZ', 'Mod+KeyY'),
  row('begin', 'marks_cmd_begin', 'KeyB'),
];
