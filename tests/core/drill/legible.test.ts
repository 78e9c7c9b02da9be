import { describe, expect, it } from 'vitest';
import { staffHeight } from '../../../src/core/drill/legible.ts';

/** CSS px a point. */
const PX = 96 / 72;

describe('the height of a staff, told from its system and its page', () => {
  it.each([
    ['a staff on A4', 595, 842, 20, 20],
    ['a piano on A4', 595, 842, 65, 20],
    ['a staff on A5 on its side', 595, 420, 20, 20],
    ['a large staff on A5 on its side', 595, 420, 26, 26],
    ['a piano on A5 on its side', 595, 420, 65, 20],
  ])('%s', (_, width, height, system, staff) => {
    const box = [0, 0.2, 1, 0.2 + system / height] as const;
    const pages = [{ width: width * PX, height: height * PX }];
    expect(staffHeight({ page: 0, box, reach: box }, pages)).toBeCloseTo(staff * PX, 6);
  });

  it.each([0.03, -0.03])('without what its box is higher for lying askew (%d)', (lean) => {
    const box = [0, 0.2, 1, 0.25] as const;
    const pages = [{ width: 800, height: 1000 }];
    expect(staffHeight({ page: 0, box, reach: box, lean }, pages)).toBeCloseTo(20, 6);
  });
});
