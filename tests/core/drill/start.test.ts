import { describe, expect, it } from 'vitest';
import type { Cut } from '../../../src/core/drill/cuts.ts';
import { staffBefore, startLook } from '../../../src/core/drill/start.ts';

describe('a staff that begins before its first bar', () => {
  const columns = (drawn: string) => Array.from(drawn, (column) => column === '=');
  it.each([
    ['  ======', 6, 'goes on to where it ends'],
    ['= === ==', 8, 'goes on over narrow gaps'],
    ['==  ====', 8, 'goes on over the white of a gap of two'],
    ['=   ====', 4, 'ends at a wide one'],
    ['     ===', 0, 'is none where no clef has room, as at a brace'],
    ['========', 8, 'may go on to where the look ends'],
    ['', 0, 'is none where nobody looked'],
  ])('%s: %i columns, it %s', (drawn, before) => {
    expect(staffBefore(columns(drawn), 8)).toBe(before);
  });

  it('is looked for as far to the left as a clef, a key and a meter reach', () => {
    const cut = (x0: number): Cut => {
      const line = { page: 0, top: 0.2, bottom: 0.24, head: 0.2, x0, x1: 0.9, y0: 0.15, y1: 0.26 };
      const placed = { page: 0, box: [x0, 0.2, 0.4, 0.24], reach: [x0, 0.15, 0.4, 0.26] } as const;
      return {
        placed,
        bar: 0,
        isRest: false,
        staff: 20,
        line: { ...line, above: null, below: null, ownFrom: null, ownTo: null, clefEnd: 0.3, clefMost: 0.4 },
      };
    };
    const pages = [{ width: 800, height: 1000 }];
    expect(startLook(cut(0.2), pages)).toBeCloseTo(0.1);
    expect(startLook(cut(0.05), pages)).toBe(0);
    // At the page's edge nothing stands before it.
    expect(startLook(cut(0.01), pages)).toBeNull();
  });
});
