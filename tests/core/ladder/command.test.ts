import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';

function ladder(...args: string[]) {
  return spawnSync(process.execPath, ['src/cli/run.mjs', 'ladder', ...args], { encoding: 'utf8' });
}

describe('npm run ladder', () => {
  test('eight bars: 15 steps, seven rungs, 1,050 clean passes, 38.67 minutes', () => {
    const { stdout, stderr, status } = ladder('--bars', '8');
    const answer = JSON.parse(stdout);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(answer.steps).toHaveLength(15);
    expect(answer.steps.slice(0, 3)).toEqual([
      { from: 0, to: 0, streak: 10 },
      { from: 1, to: 1, streak: 10 },
      { from: 0, to: 1, streak: 10 },
    ]);
    expect(answer).toMatchObject({
      rungs: [60, 70, 80, 90, 100, 110, 120],
      cleanPasses: 1050,
      minutes: 38.67,
    });
  });

  test('every option at once', () => {
    const options =
      '--bars 8 --section 4 --twins 4:0,5:1,6:2 --streak 5 --join-streak 3 --from 80 --to 90 --step 5';
    const { stdout } = ladder(
      ...options.split(' '),
      ...'--beats 3 --gap 2 --pairs --seams --differing --silent 3'.split(' '),
    );
    const answer = JSON.parse(stdout);
    const spans = answer.steps.map((step: { from: number; to: number }) => [step.from, step.to]);
    expect(spans).toEqual([
      [0, 0], [1, 1], [0, 1], [2, 2], [0, 2], [0, 3],
      [7, 7], [6, 7],
      [2, 5], [6, 9],
      [0, 7],
    ]); // prettier-ignore
    const streaks = answer.steps.map((step: { streak: number }) => step.streak);
    expect(streaks).toEqual([...Array.from({ length: 10 }, () => 5), 3]);
    expect(answer.rungs).toEqual([80, 85, 90]);
    // Bars played and two of gap before each pass, of three beats at 80.
    const bars = (1 + 1 + 2 + 1 + 3 + 4 + 1 + 2 + 4 + 4 + 10 * 2) * 5 + (8 + 2) * 3;
    expect(answer.minutes).toBeCloseTo((bars * 3) / 80, 2);
  });

  test.each([
    [[]],
    [['--bars', '8', '--twins', '0:4']],
    [['--bars', '8', '--from', '130']],
    [['--bars', '8', '--nothing']],
  ])('%j is refused in one line', (args) => {
    const { stdout, stderr, status } = ladder(...args);
    expect(status).toBe(1);
    expect(stdout).toBe('');
    expect(stderr).toMatch(/^ladder: [^\n]+\n$/);
  });
});
