import { expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { meanOfDraws } from './mean-of-draws.ts';
import { batchOf, simulationError } from './simulation-error.ts';

/** Mean over many chains of the error that each tells of its mean; `carry` is how much a draw keeps of the one before. */
function toldError(draws: number, carry: number): number {
  let sum = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const random = seededRandom(seed);
    const chain = new Float64Array(draws);
    let value = 0;
    for (let at = 0; at < draws; at++) {
      value = carry * value + Math.sqrt(1 - carry * carry) * random.normal();
      chain[at] = value;
    }
    sum += simulationError(draws, (from, to, half) => meanOfDraws(batchOf(chain, from, to, half)));
  }
  return sum / 40;
}

it('is sd / root n for the mean of independent draws', () => {
  // The mean of 40 errors of 19 degrees of freedom each is told to about 3 %.
  expect(toldError(4000, 0) * Math.sqrt(4000)).toBeGreaterThan(0.9);
  expect(toldError(4000, 0) * Math.sqrt(4000)).toBeLessThan(1.1);
});

it('grows with what draws have in common, as that of an autoregressive chain does', () => {
  // Variance of the mean: (1 + carry) / (1 - carry) / n (Priestley 1981, Spectral Analysis and Time Series, 5.3).
  const ratio = (toldError(8000, 0.8) * Math.sqrt(8000)) / Math.sqrt(1.8 / 0.2);
  expect(ratio).toBeGreaterThan(0.85);
  expect(ratio).toBeLessThan(1.1);
});

it('does not miss much of what reaches from batch to batch', () => {
  // Half of 4000 draws in 20 batches: each is as long as the chain takes to forget, (1 + carry) / (1 - carry) draws.
  const ratio = (toldError(4000, 0.98) * Math.sqrt(4000)) / Math.sqrt(1.98 / 0.02);
  expect(ratio).toBeGreaterThan(0.85);
  expect(ratio).toBeLessThan(1.1);
});

it('counts mirror images together', () => {
  const draws = Float64Array.from(
    { length: 4000 },
    (_, at) => (at < 2000 ? 1 : -1) * ((at % 7) - 3),
  );
  const error = simulationError(4000, (from, to, half) =>
    meanOfDraws(batchOf(draws, from, to, half)),
  );
  expect(error).toBeLessThan(1e-2);
});

it('is nothing where there is not a draw for each batch', () => {
  expect(simulationError(30, () => 1)).toBe(0);
});
