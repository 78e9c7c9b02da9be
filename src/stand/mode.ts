import type { ReadonlySignal } from '@preact/signals';
import type { ComponentType, VNode } from 'preact';
import type { Marks, PlacedBox, System } from '../core/chart/types.ts';
import type { SeenSystem } from '../core/find/teach/index.ts';
import type { Likely } from '../core/find/chart/likely.ts';
import type { TuneInFile } from '../core/find/tunes.ts';
import type { ChartKey, EventBody } from '../core/log/events.ts';
import type { ChartState } from '../core/log/state.ts';
import type { DeviceArea } from '../pdf/cut.ts';
import type { Levels } from '../pdf/levels.ts';
import type { Book } from './find/book.ts';
import type { Look, LookChoice } from './view/paper.ts';
import type { Handlers } from '../ui/commands.ts';

/** A point on a page in fractions of it. */
export interface PagePoint {
  readonly page: number;
  readonly x: number;
  readonly y: number;
}

export interface FrameOptions {
  readonly smooth?: boolean;
  readonly maxScale?: number;
  /** Not smaller than this for the sake of showing more of the boxes. */
  readonly leastScale?: number;
}

/** The page on the stand. Made by stand/view. */
export interface StandView {
  readonly pages: number;
  /** Pages' sizes in CSS px at scale 1, after the page's own rotation. */
  readonly sizes: readonly { readonly width: number; readonly height: number }[];
  /** Screen px per CSS px of the page at 100 %; changes on zoom. */
  readonly scale: ReadonlySignal<number>;
  /** The window on the pages, CSS px. */
  readonly room: ReadonlySignal<{ readonly width: number; readonly height: number }>;
  /** Draws `overlay(page)` on every page present, in an element whose own size is the page's: children are placed in %. */
  setOverlay(overlay: (page: number) => VNode | null): void;
  /** Draw the overlays again now (signals read in an overlay do so by themselves). */
  redraw(): void;
  /** Where a point of the window falls; null outside every page. `near` takes the nearest page instead. */
  toPage(clientX: number, clientY: number, near?: number): PagePoint | null;
  /** Brings these boxes into view as large as fits (their reaches), from the first one on if not all fit. */
  frame(boxes: readonly PlacedBox[], options?: FrameOptions): void;
  /** Moves on, at the same size, so that `box` and what follows it can be seen; never scrolls `playing` out of view. */
  follow(box: PlacedBox, playing: PlacedBox): void;
  zoomTo(scale: number | 'width' | 'page'): void;
  /** Draws a part of a page anew, sharp: see `cutOut` of src/pdf. */
  cut(page: number, area: DeviceArea, scale: number, signal?: AbortSignal): Promise<HTMLCanvasElement>;
  /** A page's own ink and paper; known once it has been drawn or cut from. */
  levels(page: number): Levels;
  /** How they are shown. */
  look(page: number): Look;
  setLook(choice: LookChoice): void;
  /** Lays something over the pages, as large as the window on them; null takes it away. */
  setFront(front: VNode | null): void;
  dispose(): void;
}

/** A line of music that another chart has. */
export interface TakenLine {
  readonly line: System;
  readonly name: string;
}

/** What every mode of the stand works with. */
export interface StandContext {
  readonly view: StandView;
  readonly chart: ChartKey;
  readonly state: ReadonlySignal<ChartState>;
  /** False while another stand writes this chart: then everything is read only. */
  readonly writing: ReadonlySignal<boolean>;
  /** Writes events strictly; resolves after the commit, with `state` already moved on. */
  append(bodies: readonly EventBody[]): Promise<ChartState>;
  /** Reads `state` again as it is now: a pause has loosened its knots. */
  readonly refresh: () => Promise<ChartState>;
  /** Says it in the live region. */
  readonly announce: (text: string) => void;
  /** One line on the screen that says what to do. */
  warn(text: string): void;
  go(mode: 'marks' | 'drill'): void;
  /** Reads the pages and gives what is found on them as marks; null when no bar is found, or it was stopped. */
  find(): Promise<Marks | null>;
  /**
   * Makes a chart of its own of these marks, from the same file; resolves to its name once it is kept. Without
   * marks, the stand turns to it: a tune that begins on this page.
   */
  another(marks: Marks | null, page: number): Promise<string>;
  /** Lines on the chart's pages that other charts have, each with the name of its chart. */
  taken(): Promise<readonly TakenLine[]>;
  /** What was seen on the chart's pages, for learning from a correction. */
  readonly seen: ReadonlySignal<readonly SeenSystem[]>;
  /**
   * Pages are turned with what `keep` keeps: as soon as it is kept the stand begins anew, at the marks. `page`: one
   * that the player has turned, from 0, is looked at for its bars.
   */
  turning(keep: () => Promise<void>, page?: number): Promise<void>;
  /** Stretches of its pages that look alike. */
  readonly likely: ReadonlySignal<readonly Likely[]>;
  /** The tunes that the chart's file holds, as far as they have been found. */
  readonly book: Book;
  /** The stand turns to one of them. */
  toTune(tune: TuneInFile): Promise<void>;
}

/** Marking the page or drilling it: what stands in the rail, what lies on the page, which commands run. */
export interface Mode {
  readonly Rail: ComponentType;
  readonly overlay: (page: number) => VNode | null;
  readonly handlers: Handlers;
  /** Something sounds: the machine has no time for anything else. */
  readonly sounds?: ReadonlySignal<boolean>;
  leave(): void;
}
