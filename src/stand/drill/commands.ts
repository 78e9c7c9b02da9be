import type { Command } from '../../ui/commands.ts';

/**
 * The drill's commands. Pedals send page, arrow or space keys: forward is slip (the one word needed in
 * mid-pass, and the one that begins when nothing sounds), backward is clean.
 */
export const drillCommands: readonly Command[] = [
  {
    id: 'slip',
    label: 'drill_slip',
    group: 'drill',
    keys: ['Space', 'PageDown', 'ArrowRight', 'ArrowDown', 'KeyS'],
  },
  {
    id: 'clean',
    label: 'drill_clean',
    group: 'drill',
    keys: ['Enter', 'PageUp', 'ArrowLeft', 'ArrowUp', 'KeyC'],
  },
  { id: 'begin', label: 'drill_begin', group: 'drill', keys: ['KeyB'] },
  { id: 'pause', label: 'drill_pause', group: 'drill', keys: ['KeyP', 'Escape'] },
  { id: 'undo', label: 'drill_undo', group: 'drill', keys: ['Mod+KeyZ', 'Backspace'] },
  { id: 'trial', label: 'drill_trial', group: 'drill', keys: ['KeyT'] },
  { id: 'repeat', label: 'drill_repeat', group: 'drill', keys: ['KeyR'] },
  { id: 'skip', label: 'drill_skip', group: 'drill', keys: ['KeyN'] },
  { id: 'back', label: 'drill_back', group: 'drill', keys: ['KeyV'] },
  { id: 'whole', label: 'drill_whole', group: 'drill', keys: ['KeyW'] },
  { id: 'fit-system', label: 'drill_fit_system', group: 'drill', keys: ['KeyL'] },
  { id: 'fit-span', label: 'drill_fit_span', group: 'drill', keys: ['KeyF'] },
  { id: 'slower', label: 'drill_slower', group: 'drill', keys: ['Minus', 'NumpadSubtract'] },
  { id: 'faster', label: 'drill_faster', group: 'drill', keys: ['Equal', 'NumpadAdd'] },
];
