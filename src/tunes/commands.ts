import type { Command } from '../ui/commands.ts';

/** What can be done on the tunes page by a key. */
export const commands: readonly Command[] = [
  { id: 'shelf-undo', label: 'tunes_key_undo', group: 'general', keys: ['Mod+KeyZ'] },
  { id: 'shelf-search', label: 'tunes_key_search', group: 'general', keys: ['Slash'] },
];
