import { indexSummary } from '../../src/stats/index-summary.ts';
import { drawnIndex } from './drawn-index.ts';
import { kendallTauB } from './kendall-tau-b.ts';
import { leastSquaresIndex } from './least-squares-index.ts';
import { plainAverageIndex } from './plain-average-index.ts';
import { type SimulatedTrial, simulatedTrial } from './simulated-trial.ts';
import { TRIAL_SCENARIOS, type TrialScenario } from './trial-scenarios.ts';

/**
 * How often the intervals of `rank` hold the truth in simulated trials, and how well its order agrees with it.
 *
 * Usage: calibrate [trials a scenario] [first seed] [part of a scenario's name]. The seeds of the printed table are
 * not those that the method was developed on (those began at 1).
 */
const [trials = '200', firstSeed = '500000', only = ''] = process.argv.slice(2);
const LEVEL = 0.9;

type Tally = {
  cultivars: number;
  inIndex: number;
  inRank: number;
  best: number;
  bestLost: number;
  width: number;
  tau: { plain: number; squares: number; drawn: number };
  byTrial: number[];
};

function tally(scenario: TrialScenario, count: number, seed: number): Tally {
  const total: Tally = {
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

function addTrial(total: Tally, trial: SimulatedTrial, seed: number): void {
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
  total.tau.plain += kendallTauB(
    truths,
    ranked.map((row) => row.average),
  );
  total.tau.squares += kendallTauB(
    truths,
    ranked.map((row) => row.square),
  );
  total.tau.drawn += kendallTauB(
    truths,
    ranked.map((row) => row.own.estimate),
  );
}

function standardError(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(square / (values.length - 1) / values.length);
}

function row(scenario: TrialScenario, count: number): string {
  const result = tally(scenario, count, Number(firstSeed));
  const percent = (part: number, of: number) => ((100 * part) / of).toFixed(1);
  const tau = (sum: number) => (sum / count).toFixed(3);
  return `| ${[
    scenario.name,
    percent(result.inIndex, result.cultivars),
    (100 * standardError(result.byTrial)).toFixed(1),
    (result.width / result.cultivars).toFixed(2),
    percent(result.inRank, result.cultivars),
    percent(result.bestLost, result.best),
    tau(result.tau.plain),
    tau(result.tau.squares),
    tau(result.tau.drawn),
  ].join(' | ')} |`;
}

console.log(`Nominal ${100 * LEVEL} %, ${trials} trials a scenario.\n`);
console.log(
  '| scenario | index interval holds truth % | se | width | rank interval % | best third discarded % | tau plain | tau least squares | tau drawn |',
);
console.log('|---|---|---|---|---|---|---|---|---|');
for (const scenario of TRIAL_SCENARIOS) {
  if (scenario.name.includes(only)) console.log(row(scenario, Number(trials)));
}
