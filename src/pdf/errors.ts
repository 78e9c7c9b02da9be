/** What can be wrong with a file that was to be opened; the screen finds its line by the class. */

/** The bytes do not start as a PDF does. */
export class NotAPdf extends Error {
  override readonly name = 'NotAPdf';
}

/** It says that it is a PDF, but it cannot be read. */
export class BrokenPdf extends Error {
  override readonly name = 'BrokenPdf';
}

/** No bytes, or no pages. */
export class EmptyPdf extends Error {
  override readonly name = 'EmptyPdf';
}

/** It opens with a password only. */
export class NeedsPassword extends Error {
  override readonly name = 'NeedsPassword';
  /** `wrong`: a password was given, but not the right one. */
  constructor(readonly wrong: boolean) {
    super(wrong ? 'wrong password' : 'password wanted');
  }
}

/** It was given up: nothing stirred for too long. */
export class TooSlow extends Error {
  override readonly name = 'TooSlow';
}
