import { mendOrder } from './by-hand.ts';
import { seen, takeFound, vouch } from './found.ts';
import { addLine, moveLine, removeLine } from './edit-lines.ts';
import {
  setBars,
  setForm,
  setStart,
  type BarChange,
  type FormChange,
  type StartChange,
} from './edit-says.ts';
import {
  addSystem,
  copySystem,
  moveSystem,
  removeSystem,
  resizeSystem,
  setCount,
  type NewId,
  type NextPlace,
} from './edit-systems.ts';
import { apart, asFrom, asSection, tellTwins, type Told } from './edit-twins.ts';
import { takeOut } from './part.ts';
import { turnPage } from './turn.ts';
import type { BarId, Marks, PageBox, System, SystemId } from './types.ts';
import { withVersion } from './version.ts';

/** Everything a player does to the marks, as plain values. Places are fractions of the page. */
export type Edit =
  | { readonly type: 'add-system'; readonly page: number; readonly box: PageBox; readonly bars: number }
  | { readonly type: 'set-count'; readonly system: SystemId; readonly bars: number }
  | { readonly type: 'copy-system'; readonly system: SystemId; readonly place: NextPlace }
  | { readonly type: 'move-system'; readonly system: SystemId; readonly dx: number; readonly dy: number }
  | {
      readonly type: 'resize-system';
      readonly system: SystemId;
      readonly top: number;
      readonly bottom: number;
    }
  | { readonly type: 'remove-system'; readonly system: SystemId }
  | { readonly type: 'move-line'; readonly system: SystemId; readonly line: number; readonly x: number }
  | { readonly type: 'add-line'; readonly bar: BarId; readonly x: number | null }
  | { readonly type: 'remove-line'; readonly system: SystemId; readonly line: number }
  | { readonly type: 'set-bars'; readonly bars: readonly BarId[]; readonly change: BarChange }
  | { readonly type: 'set-start'; readonly change: StartChange }
  | { readonly type: 'set-form'; readonly change: FormChange }
  | { readonly type: 'as'; readonly bars: readonly BarId[]; readonly from: BarId }
  | { readonly type: 'as-section'; readonly section: BarId; readonly like: BarId }
  | { readonly type: 'apart'; readonly bars: readonly BarId[] }
  /** Of bars that look alike, which are the same. */
  | { readonly type: 'tell-twins'; readonly told: readonly Told[] }
  /** A page lies on its side: it is turned by a quarter. */
  | { readonly type: 'turn-page'; readonly page: number }
  /** These bars are right as they were found. */
  | { readonly type: 'vouch'; readonly bars: readonly BarId[] }
  /** What was found, where the player has touched nothing. */
  | { readonly type: 'take-found'; readonly found: Marks }
  /** These lines are a chart of their own: they leave this one. */
  | { readonly type: 'take-out'; readonly systems: readonly SystemId[] };

/** Edits that are about what is as what. */
const OF_TWINS = new Set<Edit['type']>(['as', 'as-section', 'apart', 'tell-twins']);

/**
 * Makes one edit: returns new marks and never mutates; the very same marks when nothing changes.
 * `newId` gives the ids of bars and systems that come to be. Throws `Refused` when it cannot be made.
 */
export function edit(marks: Marks, command: Edit, newId: NewId): Marks {
  // What was found anew has been seen by nobody yet.
  if (command.type === 'take-found') return takeFound(marks, command.found).marks;
  if (command.type === 'turn-page') return turnPage(marks, command.page);
  if (command.type === 'take-out') return takeOut(marks, command.systems).rest;
  const made = changed(marks, command, newId);
  const isOfTwins = OF_TWINS.has(command.type);
  return made === marks ? marks : withVersion(mendOrder(marks, seen(marks, made, isOfTwins)));
}

function changed(
  marks: Marks,
  command: Exclude<Edit, { type: 'take-found' | 'take-out' | 'turn-page' }>,
  newId: NewId,
): Marks {
  switch (command.type) {
    case 'add-system':
      return addSystem(marks, command.page, command.box, command.bars, newId);
    case 'set-count':
      return setCount(marks, command.system, command.bars, newId);
    case 'copy-system':
      return copySystem(marks, command.system, command.place, newId);
    case 'move-system':
      return moveSystem(marks, command.system, command.dx, command.dy);
    case 'resize-system':
      return resizeSystem(marks, command.system, command.top, command.bottom);
    case 'remove-system':
      return removeSystem(marks, command.system);
    case 'move-line':
      return moveLine(marks, command.system, command.line, command.x);
    case 'add-line':
      return addLine(marks, command.bar, command.x, newId);
    case 'remove-line':
      return removeLine(marks, command.system, command.line, newId);
    case 'set-bars':
      return setBars(marks, command.bars, command.change);
    case 'set-start':
      return setStart(marks, command.change);
    case 'set-form':
      return setForm(marks, command.change);
    case 'as':
      return asFrom(marks, command.bars, command.from);
    case 'as-section':
      return asSection(marks, command.section, command.like);
    case 'apart':
      return apart(marks, command.bars);
    case 'tell-twins':
      return tellTwins(marks, command.told);
    case 'vouch':
      return vouch(marks, command.bars);
  }
}

/** Marks to begin from: the systems that were proposed for these pages (none: an empty chart), in 4/4. */
export function fromProposal(systems: readonly System[]): Marks {
  return withVersion({ version: 1, systems, meter: { beats: 4, value: 4 }, unit: null });
}
