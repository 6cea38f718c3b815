import { calibrationTally, LEVEL } from './calibration-tally.ts';
import { TRIAL_SCENARIOS, type TrialScenario } from './trial-scenarios.ts';
import { calibrateGardens } from './unkind/calibrate-gardens.ts';

/**
 * How often the intervals of `rank` hold the truth in simulated trials, and how well its order agrees with it: first
 * in trials as the model assumes them, then in gardens that are not kind, by a generator that shares nothing with it.
 *
 * Usage: calibrate [trials a scenario] [first seed] [part of a scenario's name]. The seeds of the printed table are
 * not those that the method was developed on (all of those were below 400000).
 */
const [trials = '120', firstSeed = '500000', only = ''] = process.argv.slice(2);

function standardError(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(square / (values.length - 1) / values.length);
}

function row(scenario: TrialScenario, count: number): string {
  const result = calibrationTally(scenario, count, Number(firstSeed));
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
await calibrateGardens(Number(trials), Number(firstSeed), only);
