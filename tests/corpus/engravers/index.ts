import type { Tune } from '../tunes/types.ts';
import type { Truth } from '../truth.ts';
import { engrave as abcjs } from './abcjs.ts';
import { engrave as abcm2ps } from './abcm2ps.ts';
import { engrave as lilypond } from './lilypond.ts';
import { engrave as verovio } from './verovio.ts';
import { engrave as vexflow } from './vexflow.ts';

/** Engraves tunes into a folder as NAME.pdf and says what was drawn. */
export type Engrave = (tunes: readonly Tune[], folder: string) => Truth[] | Promise<Truth[]>;

export const engravers: Record<string, Engrave> = { abcjs, abcm2ps, lilypond, verovio, vexflow };
