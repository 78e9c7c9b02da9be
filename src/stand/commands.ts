import type { Command } from '../ui/commands.ts';
import { drillCommands } from './drill/commands.ts';
import { marksCommands } from './marks/commands.ts';

/** Commands of the stand itself, in every mode. */
const standCommands: readonly Command[] = [
  { id: 'zoom-in', label: 'stand_zoom_in', group: 'view', keys: ['Mod+Equal'] },
  { id: 'zoom-out', label: 'stand_zoom_out', group: 'view', keys: ['Mod+Minus'] },
  { id: 'zoom-page', label: 'stand_zoom_page', group: 'view', keys: ['Mod+Digit0'] },
  { id: 'theme', label: 'stand_theme', group: 'view', keys: ['KeyD'] },
  { id: 'marks', label: 'stand_marks', group: 'general', keys: ['KeyM'] },
  { id: 'settings', label: 'stand_settings', group: 'general', keys: ['Comma'] },
  { id: 'help', label: 'stand_help', group: 'general', keys: ['Shift+Slash', 'F1'] },
];

/** Every command of the stand: keys, buttons, tooltips and the help sheet come from this table. */
export const commands: readonly Command[] = [...drillCommands, ...marksCommands, ...standCommands];
