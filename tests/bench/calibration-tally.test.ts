import { describe, expect, it } from 'vitest';
import { calibrationTally } from './calibration-tally.ts';
import { TRIAL_SCENARIOS } from './trial-scenarios.ts';

// A few trials only, to notice when something breaks; `calibrate.ts` measures.
describe('the index in simulated trials', () => {
  const [base] = TRIAL_SCENARIOS;
  if (base === undefined) throw new Error('no scenario');

  it.each([
    ['three seasons', base],
    ['one season, one tree', { ...base, seasons: 1, mostTrees: 1, late: 0 }],
  ])(
    '%s: intervals hold the truth about nine times in ten, the order beats plain averages',
    (_name, scenario) => {
      const trials = 6;
      const tally = calibrationTally(scenario, trials, 800_000);
      expect(tally.inIndex / tally.cultivars).toBeGreaterThan(0.78);
      expect(tally.inIndex / tally.cultivars).toBeLessThan(0.97);
      expect(tally.inRank / tally.cultivars).toBeGreaterThan(0.82);
      expect(tally.bestLost / tally.best).toBeLessThan(0.02);
      expect(tally.tau.drawn).toBeGreaterThan(tally.tau.plain);
    },
  );
});
