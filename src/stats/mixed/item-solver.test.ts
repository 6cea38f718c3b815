import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { ItemSolver } from './item-solver.ts';
import { mixedLayout } from './mixed-layout.ts';

const season = [0, 0, 1, 1, 2, 2, 2];
const tree = [0, 1, 0, 1, 0, 0, 1];
const y = [6.1, 4.8, 7.2, 5.9, 5.5, 6.4, 5.1];
const layout = mixedLayout({
  y,
  item: y.map(() => 0),
  season,
  tree,
  plate: y.map((_, at) => at),
  block: y.map(() => 0),
  factors: [],
});
const weights = Float64Array.from([1.2, 0.8, 1, 2, 1.5, 0.7, 1]);
const spreads = { item: 1.1, season: 0.5, tree: 0.4, plate: 0.6, residual: 1 };
const rest = Float64Array.from(y, (value) => value - 5.5);

/** The textbook way: the whole covariance matrix of the plate means, Searle, Casella and McCulloch 1992. */
function dense() {
  const covariance = Matrix.zeros(y.length, y.length);
  for (let i = 0; i < y.length; i++) {
    for (let j = 0; j < y.length; j++) {
      let value = spreads.item ** 2;
      if (season[i] === season[j]) value += spreads.season ** 2;
      if (tree[i] === tree[j]) value += spreads.tree ** 2;
      if (i === j) value += 1 / (weights[i] ?? 1);
      covariance.set(i, j, value);
    }
  }
  const factor = new CholeskyDecomposition(covariance);
  const solved = factor.solve(Matrix.columnVector([...rest])).to1DArray();
  const ones = factor.solve(Matrix.ones(y.length, 1)).to1DArray();
  const logRoot = factor.lowerTriangularMatrix
    .diag()
    .reduce((sum, value) => sum + Math.log(value), 0);
  const quadratic = solved.reduce((sum, value, k) => sum + value * (rest[k] ?? 0), 0);
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const variance = spreads.item ** 2 - spreads.item ** 4 * sum(ones);
  return {
    logLikelihood: -logRoot - quadratic / 2,
    mean: spreads.item ** 2 * sum(solved),
    variance,
  };
}

describe('ItemSolver', () => {
  const solver = new ItemSolver(layout);

  it('agrees with the dense formulae', () => {
    solver.prepare(spreads, weights);
    const logLikelihood = solver.solve(rest);
    const expected = dense();
    expect(logLikelihood).toBeCloseTo(expected.logLikelihood, 12);
    expect(solver.mean(0)).toBeCloseTo(expected.mean, 12);
    expect(solver.sd(0) ** 2).toBeCloseTo(expected.variance, 12);
  });

  it('draws the mean when there is no noise, effects adding up to the fitted plate', () => {
    solver.prepare(spreads, weights);
    solver.solve(rest);
    const fitted = new Float64Array(y.length);
    expect(solver.draw(0, { normals: (into) => into.fill(0) }, fitted)).toBeCloseTo(
      solver.mean(0),
      12,
    );
    // The same cell has the same fitted value; plates 4 and 5 share season and tree.
    expect(fitted[4]).toBe(fitted[5]);
  });

  it('solves for other plate means without being prepared again', () => {
    const [once, again] = [new ItemSolver(layout), new ItemSolver(layout)];
    once.prepare(spreads, weights);
    once.solve(rest);
    const doubled = rest.map((value) => 2 * value);
    again.prepare(spreads, weights);
    expect(once.solve(doubled)).toBe(again.solve(doubled));
    expect(once.mean(0)).toBe(again.mean(0));
  });

  it('does without any spread', () => {
    solver.prepare({ item: 0, season: 0, tree: 0, plate: 0, residual: 1 }, weights);
    expect(Number.isFinite(solver.solve(rest))).toBe(true);
    expect(solver.mean(0)).toBe(0);
    expect(solver.sd(0)).toBe(0);
  });
});
