import { signal, type ReadonlySignal } from '@preact/signals';
import { t } from '../host/i18n.ts';
import { openPdf, type OpenOptions, type PdfFile } from '../pdf/open.ts';
import { TooSlow } from '../pdf/errors.ts';
import { Stopped } from './problems.ts';

/** The stand asks for the password of a locked file. */
export interface Asking {
  /** The one before was not it. */
  readonly wrong: boolean;
  /** `keep`: it is remembered from now on. */
  answer(password: string, keep: boolean): void;
  leave(): void;
}

/** Where the password of a locked file is remembered, if the player said so. */
export interface Memory {
  recall(): Promise<string | null>;
  keep(password: string): Promise<void>;
}

/** One opening, from the bytes to the first page. */
export interface Opening {
  /** How far it is; null once the page is there. */
  readonly text: ReadonlySignal<string | null>;
  readonly asking: ReadonlySignal<Asking | null>;
  /** Aborts when the player stops it, or the page takes too long. */
  readonly signal: AbortSignal;
  /** Reads the file, opened so. Throws what `openPdf` throws; Stopped. */
  read(bytes: Promise<Blob>, memory: Memory, how: Pick<OpenOptions, 'first' | 'turns'>): Promise<PdfFile>;
  /** Keeps watch over the drawing of the first page. Throws TooSlow, Stopped. */
  draw<T>(drawing: () => Promise<T>): Promise<T>;
  stop(): void;
}

/** The first page may take so long to be drawn, ms: a scan of 100 MB takes seconds, a hostile page for ever. */
const DRAWING_LIMIT = 45_000;

export function createOpening(left: AbortSignal): Opening {
  const text = signal<string | null>(t('stand_opening'));
  const asking = signal<Asking | null>(null);
  const ended = new AbortController();
  const ends = AbortSignal.any([left, ended.signal]);
  const stop = () => ended.abort(new Stopped());

  const ask = (wrong: boolean) =>
    new Promise<{ password: string; keep: boolean }>((resolve, reject) => {
      const done = () => (asking.value = null);
      asking.value = {
        wrong,
        answer: (password, keep) => {
          done();
          resolve({ password, keep });
        },
        leave: () => {
          done();
          reject(new Stopped());
        },
      };
    });

  return {
    text,
    asking,
    signal: ends,
    stop,
    async read(bytes, memory, how) {
      let recalled: string | null = null;
      const typed = { once: false, keep: false };
      const file = await openPdf(bytes, {
        ...how,
        signal: ends,
        onProgress: (share) => (text.value = t('stand_opening_share', Math.round(100 * share))),
        askPassword: async (wrong) => {
          // What is remembered is tried first and once: the file may have been locked anew.
          if (!wrong && (recalled = await memory.recall()) !== null) return recalled;
          const { password, keep } = await ask(typed.once);
          Object.assign(typed, { once: true, keep });
          return password;
        },
      });
      if (file.password !== null && typed.keep) await memory.keep(file.password);
      text.value = t('stand_drawing');
      return file;
    },
    async draw(drawing) {
      const late = setTimeout(() => ended.abort(new TooSlow()), DRAWING_LIMIT);
      try {
        const drawn = await drawing();
        text.value = null;
        return drawn;
      } finally {
        clearTimeout(late);
      }
    },
  };
}
