/** An invented tune as the corpus makes it, before any engraver sees it. */

/** A note or rest. Lengths in sixteenths: 16 is a whole note, 6 a dotted quarter. */
export interface Note {
  /** Diatonic steps from middle C; null is a rest. */
  readonly step: number | null;
  /** Semitones that the written note differs from its letter: −1 flat, 1 sharp. */
  readonly alter: number;
  readonly length: number;
  /** Tied to the next note. */
  readonly tie?: true;
}

export interface Chord {
  /** Sixteenths from the start of the bar. */
  readonly at: number;
  readonly root: number;
  readonly alter: number;
  readonly kind: '' | 'm' | '7' | '6' | 'm7' | 'maj7' | 'dim';
}

export interface Meter {
  readonly beats: number;
  readonly value: number;
}

export interface TuneBar {
  readonly notes: readonly Note[];
  /** Second staff. */
  readonly bass: readonly Note[];
  readonly chords: readonly Chord[];
  readonly meter?: Meter;
  readonly section?: string;
  readonly repeatStart?: true;
  readonly repeatEnd?: true;
  readonly ending?: number;
  readonly pickup?: true;
  /** A rest of so many bars in one. */
  readonly rests?: number;
  readonly segno?: true;
  /** The coda's sign over its first bar. */
  readonly coda?: true;
  readonly toCoda?: true;
  readonly fine?: true;
  readonly jump?: { readonly from: 'dc' | 'ds'; readonly al?: 'fine' | 'coda' };
  /** A double bar line at its end. */
  readonly double?: true;
  /** A new line after it. */
  readonly break?: true;
}

export interface Tune {
  readonly name: string;
  readonly seed: number;
  readonly form: string;
  /** Fifths: −3 is three flats. */
  readonly key: number;
  readonly meter: Meter;
  readonly staves: 1 | 2;
  readonly bars: readonly TuneBar[];
  /** Written bars in the order they sound, pickup left out, as the form was made. */
  readonly route: readonly number[];
  /** Which bars were made alike: one number for each class, by bar. */
  readonly classes: readonly number[];
  /** Pages and staves of this size, 1 usual. */
  readonly size: number;
  readonly paper: 'a4' | 'letter' | 'a4landscape';
}
