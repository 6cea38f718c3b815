import { describe, expect, it } from 'vitest';
import { plainAverageIndex } from './plain-average-index.ts';
import { simulatedTrial } from './simulated-trial.ts';
import { TRIAL_SCENARIOS } from './trial-scenarios.ts';

const [base] = TRIAL_SCENARIOS;
if (base === undefined) throw new Error('no scenario');

describe('simulatedTrial', () => {
  it('makes the same trial from the same seed', () => {
    expect(simulatedTrial(base, 4)).toEqual(simulatedTrial(base, 4));
    expect(simulatedTrial(base, 4).truth).not.toEqual(simulatedTrial(base, 5).truth);
  });

  it('scores in whole numbers from 1 to 10, three tasters a plate', () => {
    const { scores } = simulatedTrial({ ...base, level: 8.3, missing: 0 }, 2);
    const given = scores.flatMap((score) => [score.flavour ?? 0, score.sweetness ?? 0]);
    expect(given.every((value) => Number.isInteger(value) && value >= 1 && value <= 10)).toBe(true);
    expect(given.filter((value) => value === 10).length).toBeGreaterThan(given.length / 20);
    expect(scores.length).toBe(3 * new Set(scores.map((score) => score.plate)).size);
  });

  it('has for truth what plain averages come to when there is no end of evidence', () => {
    // Many seasons, trees and sittings: everything that swings averages out, so the averages check the formulae.
    const endless = {
      ...base,
      cultivars: 6,
      seasons: 60,
      mostTrees: 40,
      sittingsPerSeason: 12,
      late: 0,
      missing: 0,
    };
    const trial = simulatedTrial(endless, 3);
    plainAverageIndex(trial).forEach((average, cultivar) => {
      expect(Math.abs((average ?? 0) - (trial.truth[cultivar] ?? 0))).toBeLessThan(0.3);
    });
  });
});
