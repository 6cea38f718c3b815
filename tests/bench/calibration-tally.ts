import { indexSummary } from '../../src/stats/mixed/index-summary.ts';
import { kendallTauB } from '../support/kendall-tau-b.ts';
import { drawnIndex } from './drawn-index.ts';
import { leastSquaresIndex } from './least-squares-index.ts';
import { plainAverageIndex } from './plain-average-index.ts';
import { type SimulatedTrial, simulatedTrial } from './simulated-trial.ts';
import type { TrialScenario } from './trial-scenarios.ts';

/** Nominal level of the intervals that are tallied. */
export const LEVEL = 0.9;

/** Sums over trials and cultivars. */
export type CalibrationTally = {
  cultivars: number;
  inIndex: number;
  inRank: number;
  best: number;
  bestLost: number;
  width: number;
  tau: { plain: number; squares: number; drawn: number };
  byTrial: number[];
};

/** Simulates so many trials of a scenario, seeds counted up from the given one, and tallies what the index says of them. */
export function calibrationTally(
  scenario: TrialScenario,
  count: number,
  seed: number,
): CalibrationTally {
  const total: CalibrationTally = {
    cultivars: 0,
    inIndex: 0,
    inRank: 0,
    best: 0,
    bestLost: 0,
    width: 0,
    tau: { plain: 0, squares: 0, drawn: 0 },
    byTrial: [],
  };
  for (let k = 0; k < count; k++)
    addTrial(total, simulatedTrial(scenario, seed + 1000 * k), seed + k);
  return total;
}

function addTrial(total: CalibrationTally, trial: SimulatedTrial, seed: number): void {
  const draws = drawnIndex(trial, 10 * seed);
  const drawn = indexSummary(draws, { level: LEVEL, top: 3 });
  const plain = plainAverageIndex(trial);
  const squares = leastSquaresIndex(trial);
  const ranked = trial.truth.flatMap((truth, cultivar) => {
    const own = drawn[cultivar];
    const [average, square] = [plain[cultivar], squares[cultivar]];
    if (own === undefined || average === undefined || square === undefined) return [];
    return [{ truth, own, average, square }];
  });
  const truths = ranked.map((row) => row.truth);
  const descending = truths.toSorted((a, b) => b - a);
  // Stern on purpose: a discard level at the true median, far above where a grower would set it.
  const discardBelow = descending[Math.floor(descending.length / 2)] ?? 0;
  const thirdRank = Math.floor(descending.length / 3);
  let inside = 0;
  for (const { truth, own } of ranked) {
    const rank = 1 + descending.indexOf(truth);
    if (own.low <= truth && truth <= own.high) inside++;
    if (own.rankLow <= rank && rank <= own.rankHigh) total.inRank++;
    total.width += own.high - own.low;
    if (rank > thirdRank) continue;
    total.best++;
    if (own.high < discardBelow) total.bestLost++;
  }
  total.inIndex += inside;
  total.cultivars += ranked.length;
  total.byTrial.push(inside / ranked.length);
  total.tau.plain += tauB(
    truths,
    ranked.map((row) => row.average),
  );
  total.tau.squares += tauB(
    truths,
    ranked.map((row) => row.square),
  );
  total.tau.drawn += tauB(
    truths,
    ranked.map((row) => row.own.estimate),
  );
}

/** Kendall's tau-b; 0 where all estimates tie, which tells nothing of the order. */
function tauB(truths: readonly number[], estimates: readonly number[]): number {
  return kendallTauB(truths, estimates)?.coefficient ?? 0;
}
